/** The sentence for a refused input. Twin of problem_sentence in __init__.py. */

import { calculatorWords, problemTemplates } from "./declared.js";

/** @param {string} id @param {import("../calculators/reckon.js").Problem} problem */
export function problemSentence(id, { field, code, facts }) {
  const own = calculatorWords[id];
  const label = Object.hasOwn(own.labels, field) ? own.labels[field] : field;
  return filled(own.refusals[code] ?? problemTemplates[code], { label, ...facts });
}

/** A template with what stands in its {braces}. */
export function filled(template, facts) {
  return template.replace(/\{(\w+)\}/g, (_, name) => facts[name]);
}
