/** Why an input is refused, its limits as this region writes numbers. */

import { local } from "../../quantities/locale.js";
import { problemSentence } from "../../wording/sentences.js";

const AMOUNT = /^[-\u2212]?[0-9]/;

/** @param {string} id of a calculator @param {{field: string, code: string, facts: Object<string, string>}} problem */
export function problemText(id, { facts, ...problem }) {
  return problemSentence(id, { ...problem, facts: localFacts(facts) });
}

/** @param {Object<string, string>} facts names of units have commas between them, and stay */
export function localFacts(facts) {
  return Object.fromEntries(Object.entries(facts).map(([name, text]) => [name, AMOUNT.test(text) ? local(text) : text]));
}
