/** The pace that a purge is walked at, and what a shared screen folds away because it is known. */

import { begins } from "../../purge/declared.js";
import { words } from "../../wording/words.js";
import { settings } from "../storage/settings.js";
import { expectedOf } from "./expected.js";
import { readingOf, shortText } from "./reading_texts.js";

/** @param {string|null} why it is every step @param {boolean} isShort @param {boolean} isOffered the short pace, to this hand */
export function showPace(page, why, isShort, isOffered) {
  const which = isShort ? "short" : why ?? (isOffered ? "chosen" : "no_tank");
  page.querySelector("[data-pace-says]").textContent = words(`purge.pace.${which}`);
  const way = page.querySelector("[data-pace-way]");
  if (way) way.hidden = which !== "practice";
  const turn = page.querySelector("[data-pace-turn]");
  turn.hidden = !isOffered;
  turn.textContent = words(`purge.turn.${isShort ? "every" : "short"}`);
}

/** One line with what is folded away; nothing where nothing is. @param {string[]} names of readings that are folded */
export function showKnown(page, names, texts, begun) {
  const readable = [...new Set(names)].filter((name) => texts[name] && readingOf(name, texts[name]));
  const said = readable.map((name) => words(`purge.known.${name}`, {
    value: readingOf(name, texts[name]).uncertainty === null ? shortText(name, texts[name]) : texts[name],
  }));
  const all = [...(begun ? beginning(page, begun) : []), ...said];
  const line = page.querySelector("[data-known]");
  line.hidden = all.length === 0;
  line.textContent = all.length ? `${all.join(". ")}.` : "";
}

/** How the tank stands, what comes out, where it goes, who is there. */
function beginning(page, run) {
  const chosen = (name) => page.querySelector(`[name=${name}]:checked`).value;
  const place = page.querySelector("[data-place]").value.trim();
  const { buckets } = expectedOf(page, run) ?? {};
  const solids = words(`purge.solids.${chosen("solids")}`);
  return [
    words(`purge.tank_state.${begins[chosen("tank-state")]}`),
    place ? words("purge.known.place", { solids, place }) : solids,
    ...(buckets ? [buckets] : []),
    words("purge.known.by", settings()),
  ];
}
