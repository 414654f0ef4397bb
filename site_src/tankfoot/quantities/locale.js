/** How this phone's region writes what the page's language says. */

import { language, numerals, usualLocale } from "./declared.js";

/** @type {{languages: readonly string[]}} */
const { languages } = globalThis.navigator;

const COMMA = ",";
const REGION = /-([A-Z]{2}|[0-9]{3})\b/; // of a language tag: RFC 5646

/** The page's language as this phone's region writes it: days and months stand the other way round in Kent. */
export function locale() {
  return languages.find((own) => own.split("-")[0] === language) ?? usualLocale;
}

// A table says it: to ask Intl would take a page as long as all else that it runs at its start.
const writesComma = numerals.comma !== numerals.others.includes(REGION.exec(locale())?.[1] ?? "");

/**
 * A number's text as this region writes it, from or into the one that sums and the record have, with a decimal point.
 * Where a comma is the decimal sign, comma and point change places: a point that may be one of thousands is refused.
 *
 * @param {string} text
 */
export function local(text) {
  return writesComma ? text.replace(/[.,]/g, (sign) => (sign === COMMA ? "." : COMMA)) : text;
}
