/**
 * What an instrument showed last stands below its field and is no reading: it counts once a hand has touched it, by
 * typing, by − and +, or by saying that it reads the same.
 */

import { stepBy } from "../../purge/declared.js";
import { formatIn, formatPlain } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { words } from "../../wording/words.js";
import { fill, textOf } from "../parts/fields.js";
import { readingOf, shortText } from "./reading_texts.js";

/**
 * @param {object} run
 * @returns {Object<string, [string, string]>} by reading: which value it is, in `purge.shown` of the words, and its text
 */
export function shownLast({ body: { readings }, known, lastFlow }) {
  const found = {
    temperature: [["last", known.temperature]],
    pressure_found: [["last", readings.pressure_before], ["last", known.pressure_found]],
    pressure_before: [["wanted", readings.target_pressure], ["last", readings.pressure_found], ["last", known.pressure_found]],
    pressure_after: [["last", readings.pressure_before]],
    flow: [["last", lastFlow]],
  };
  const first = Object.entries(found).map(([name, values]) => [name, values.find(([, text]) => text)]);
  return Object.fromEntries(first.filter(([, value]) => value));
}

/** Puts what an instrument showed last below its field; nothing stands there where nothing is known. */
export function showLast(field, [which, text] = []) {
  const place = field.box.querySelector("[data-shown-last]");
  if (!place) return;
  place.hidden = text === undefined;
  place.dataset.text = text ? shortText(field.name, text) : "";
  place.querySelector("[data-shown-last-says]").textContent = text ? words(`purge.shown.${which}`, { value: local(place.dataset.text) }) : "";
}

/** @param {() => void} touched is called once a tap has made a reading */
export function listenToInstrument(field, touched) {
  const place = field.box.querySelector("[data-shown-last]");
  if (!place) return;
  const take = (text) => { fill(field, text); touched(); };
  place.querySelector("[data-same]").addEventListener("click", () => take(place.dataset.text));
  for (const button of place.querySelectorAll("[data-move]")) {
    button.addEventListener("click", () => take(moved(field, place.dataset.text, Number(button.dataset.move))));
  }
}

/** What is typed, else what was shown last, moved by a step of the unit that is chosen. */
function moved(field, last, by) {
  const symbol = field.unit.value;
  const typed = readingOf(field.name, textOf(field));
  const shown = formatIn((typed ?? readingOf(field.name, last)).si, symbol, typed ? 6 : 3);
  return `${formatPlain((readingOf(field.name, shown)?.value ?? 0) + by * stepBy[symbol], 6)} ${symbol}`;
}
