/** What a camera saw of the purges of a period: how far it can be trusted, and their strips; never by person. */

import { lastInstants } from "../../purge/machine.js";
import { runOf } from "../../report/strips.js";
import { CLOSE } from "../../report/trust.js";
import { words } from "../../wording/words.js";
import { written } from "../parts/dates.js";
import { element } from "../parts/figures.js";
import { beerText, secondsText, stripPictures } from "../parts/run_strip.js";
import { getEach } from "../storage/record.js";
import { short } from "./told.js";

/** @param {HTMLElement} page @param {{trust: import("../../report/trust.js").Trust, strips: string[]}} told */
export async function showSeen(page, { trust, strips }) {
  const place = page.querySelector("[data-seen]");
  const lines = sentences(trust).map((textContent) => element("li", { textContent }));
  place.querySelector("[data-trust]").replaceChildren(...lines);
  const rows = (await getEach(strips)).flatMap((entry) => (entry?.kind === "purge" && !entry.deleted ? rowOf(entry.body) : []));
  place.querySelector("[data-strips]").replaceChildren(...stripPictures(rows));
}

function rowOf(body) {
  const run = runOf(body);
  if (!run) return [];
  const day = written(lastInstants(body.events).opened, "shortDay");
  return [{ ...run, label: words("cost.trust.run", { tank: body.tank_name, day }), text: beerText(run) }];
}

function sentences({ watched, tapped, close, missed, early, late, median }) {
  const found = [words("cost.trust.watched", { count: watched })];
  if (!tapped) return found;
  const share = short(close / tapped, "share");
  found.push(words("cost.trust.tapped", { count: tapped }), words("cost.trust.close", {
    close, tapped, missed, early, late, share, limit: secondsText(CLOSE),
  }));
  if (median !== null) found.push(words(`cost.trust.${median < 0 ? "before" : "after"}`, { seconds: secondsText(Math.abs(median)) }));
  return [...found, words("cost.trust.hears")];
}
