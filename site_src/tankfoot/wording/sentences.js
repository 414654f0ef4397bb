/** The sentence for a refused input. Twin of problem_sentence in __init__.py. */

import { calculatorWords, problemTemplates } from "./declared.js";

/** @param {string} id @param {import("../calculators/reckon.js").Problem} problem */
export function problemSentence(id, { field, code, facts }) {
  const own = calculatorWords[id];
  const label = Object.hasOwn(own.labels, field) ? own.labels[field] : field;
  const template = own.refusals[code] ?? problemTemplates[code];
  return template.replace(/\{(\w+)\}/g, (_, name) => ({ label, ...facts })[name]);
}
