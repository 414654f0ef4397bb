/** The words of the screens, in the language of the page. */

import { screens } from "./declared.js";
import { filled } from "./sentences.js";

/** The page's language as this phone's region writes it: days and months stand the other way round in Kent. */
export function locale() {
  const { lang } = document.documentElement;
  return navigator.languages.find((own) => own.split("-")[0] === lang) ?? lang;
}

/**
 * @param {string} key in screens.toml, such as "record.not_finished"
 * @param {Object<string, string|number>} facts what stands in the {braces}; `count` also chooses the plural
 */
export function words(key, facts = {}) {
  const found = key.split(".").reduce((inner, name) => inner[name], screens);
  const template = typeof found === "string" ? found : found[new Intl.PluralRules(locale()).select(facts.count)];
  const texts = Object.entries(facts).map(([name, fact]) => [name, typeof fact === "number" ? inDigits(fact) : fact]);
  return filled(template, Object.fromEntries(texts));
}

function inDigits(number) {
  return new Intl.NumberFormat(locale()).format(number);
}

/** Several texts as one: "one, another, and a third"; of type "unit" without the "and". */
export function listed(texts, type = "conjunction") {
  return new Intl.ListFormat(locale(), { type }).format(texts);
}
