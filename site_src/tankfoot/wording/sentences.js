/** The sentence for a refused input. Twin of problem_sentence in __init__.py. */

import { calculators, problemTemplates } from "../calculators/declarations.js";

/** @param {string} id @param {import("../calculators/reckon.js").Problem} problem */
export function problemSentence(id, { field, code, facts }) {
  const own = calculators[id];
  const label = own.fields[field]?.label ?? field;
  const template = own.refusals[code] ?? problemTemplates[code];
  return template.replace(/\{(\w+)\}/g, (_, name) => ({ label, ...facts })[name]);
}
