/** The fields of the purge's steps: what a hand types there is kept at once, and what is known stands there before. */

import { FIRST } from "../../purge/machine.js";
import { flipSign } from "../parts/fields.js";
import { folded, known, notAsked } from "./in_fields.js";
import { listenToInstrument, shownLast } from "./instruments.js";
import { showKnown } from "./known_line.js";
import { fieldsIn, showReadings } from "./readings.js";

/** @param {{keep: () => void, showSums: () => void, enter: () => void}} done what follows a reading, a key, and Enter */
export function listenToFields(page, { keep, showSums, enter }) {
  for (const field of [...page.querySelectorAll("[data-step]")].flatMap(fieldsIn)) {
    for (const input of [field.entry, field.unit]) input.addEventListener("change", keep);
    field.entry.addEventListener("input", showSums);
    field.entry.addEventListener("focus", () => field.entry.select());
    field.entry.addEventListener("keydown", ({ key }) => { if (key === "Enter") enter(); });
    field.box.querySelector("[data-flip]")?.addEventListener("click", () => {
      flipSign(field);
      keep();
    });
    listenToInstrument(field, keep);
  }
}

/**
 * Fills the fields of a screen, each reading where it is asked for first, and says in one line what is folded away.
 *
 * @param {HTMLElement[]} sections of the screen @param {object} run @param {object} now what stands on it: see short.js
 */
export function showFields(page, sections, run, now) {
  const texts = known(run, now);
  const away = folded(now, texts, run.body);
  const seen = [];
  for (const each of sections) {
    showReadings(each, { texts, last: shownLast(run), hidden: [...notAsked(run), ...away, ...seen] });
    seen.push(...fieldsIn(each).map(({ name }) => name));
  }
  const told = [...seen, ...now.tells].filter((name) => away.includes(name));
  showKnown(page, told, texts, now.isShared && now.hides.length > 0 && run.body.state === FIRST ? run : null);
}
