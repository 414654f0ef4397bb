/** The strip of a run's colours, where a camera watched it: one row beside the result, all of it in the record. */

import { units } from "../../quantities/declared.js";
import { formatPlain } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { A_PICTURE, runOf, strip, strips } from "../../report/strips.js";
import { listed, words } from "../../wording/words.js";
import { drawPicture } from "../drawing/marks.js";
import { drawn } from "../drawing/section.js";
import { unitOf } from "../storage/units.js";
import { element } from "./figures.js";

const DIGITS = 3;

/** Seconds as a person reads them. @param {number} value */
export function secondsText(value) {
  const unit = unitOf("duration");
  return `${local(formatPlain(value / units[unit].factor, DIGITS))} ${unit}`;
}

/** All of a purge's strip with its marks. @returns {HTMLElement[]} none where no camera watched */
export function wholeStrip(body) {
  const run = runOf(body);
  if (!run) return [];
  const { seen, tapped, change, watched } = run;
  const unseen = watched.unseen.reduce((sum, [from, to]) => sum + Math.max(Math.min(to, run.run) - from, 0), 0);
  const says = {
    closed: words("strip.closed", { seconds: secondsText(run.run) }),
    seen: seen === null ? "" : words("strip.seen", { seconds: secondsText(seen) }),
    tapped: tapped === null ? "" : words("strip.tapped", { seconds: secondsText(tapped) }),
    beer: change === null ? "" : words("strip.beer", { seconds: secondsText(run.run - change) }),
    unseen: unseen > 0 ? words("strip.unseen", { seconds: secondsText(unseen) }) : "",
  };
  const told = listed(Object.values(says).filter(Boolean), "unit");
  return [pictured(strip(run, { title: words("strip.title"), says: told, opened: words("strip.opened"), ...says }))];
}

/** One row of a purge's strip, for the result. @returns {HTMLElement[]} none where no camera watched */
export function shortStrip(body) {
  const run = runOf(body);
  return run ? stripPictures([{ ...run, label: words("strip.short"), text: beerText(run) }]) : [];
}

/** Strips below one another, to one scale. @param {any[]} rows runs, each with its label and text */
export function stripPictures(rows) {
  const longest = rows.reduce((most, { run }) => Math.max(most, run), 1.0);
  const parts = rows.flatMap((_, place) => (place % A_PICTURE === 0 ? [rows.slice(place, place + A_PICTURE)] : []));
  return parts.map((some) => {
    const says = listed(some.map(({ label, text }) => words("cost.pair", { label, text })), "unit");
    return pictured(strips(some, longest, { title: words("strip.title"), says }));
  });
}

/** How long beer ran, for a row. */
export function beerText({ run, change }) {
  return change === null ? words("strip.no_change") : words("strip.beer", { seconds: secondsText(run - change) });
}

function pictured(picture) {
  const styles = document.querySelector("link[data-pictures]");
  if (styles?.disabled) styles.disabled = false; // fetched by the pages that draw such a picture, and by no other
  const svg = drawn("svg", {});
  drawPicture(svg, picture);
  return element("figure", { className: "cost-picture" }, svg);
}
