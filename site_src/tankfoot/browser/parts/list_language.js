/** The language of a site's own list: a member of the list, which one of before schema 7 has not. */

import { languageName, words } from "../../wording/words.js";
import { element } from "./figures.js";

/** @typedef {{language?: string}} List */

/** The attribute for what is in a list's own words: a voice reads them in its language. @param {List} list */
export function langOf({ language }) {
  return language ? { lang: language } : {};
}

/** Which language a list is in, where that was said and is not the page's. @param {List} list */
export function inLanguage({ language }) {
  const isOther = language && language !== document.documentElement.lang;
  return isOther ? words("own.in_language", { language: languageName(language) }) : "";
}

/** Offers a language to be chosen, also one that this Tankfoot does not speak. @param {HTMLSelectElement} select */
export function offerLanguage(select, language) {
  if (!language || [...select.options].some(({ value }) => value === language)) return;
  select.append(element("option", { value: language, textContent: languageName(language) }));
}
