/** The words of the screens, in the language of the page. */

import { numerals } from "../quantities/declared.js";
import { locale } from "../quantities/locale.js";
import { screens } from "./declared.js";
import { filled, ofCount } from "./sentences.js";

/**
 * @param {string} key in screens.toml, such as "record.not_finished"
 * @param {Object<string, string|number>} facts what stands in the {braces}; `count` also chooses the plural
 */
export function words(key, facts = {}) {
  const found = key.split(".").reduce((inner, name) => inner[name], screens);
  const template = typeof found === "string" ? found : ofCount(found, facts.count);
  const texts = Object.entries(facts).map(([name, fact]) => [name, typeof fact === "number" ? inDigits(fact) : fact]);
  return filled(template, Object.fromEntries(texts));
}

/** A small whole number needs no Intl, which takes its time when it is asked first. */
function inDigits(number) {
  if (numerals.latin && Number.isInteger(number) && number >= 0 && number < 1000) return String(number);
  return new Intl.NumberFormat(locale()).format(number);
}

/** A language's name in the page's own. @param {string} tag its primary subtag, RFC 5646 */
export function languageName(tag) {
  return new Intl.DisplayNames(locale(), { type: "language" }).of(tag);
}

/** Several texts as one: "one, another, and a third"; of type "unit" without the "and". */
export function listed(texts, type = "conjunction") {
  return new Intl.ListFormat(locale(), { type }).format(texts);
}
