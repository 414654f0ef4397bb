/** Sentences for what is wrong. Twin of problem_sentence, file_sentence and shape_words in __init__.py. */

import { calculatorWords, fileWords, problemTemplates } from "./declared.js";

/**
 * Why an input is refused.
 *
 * @param {string} id of a calculator
 * @param {{field: string, code: string, facts: Object<string, string>}} problem
 */
export function problemSentence(id, { field, code, facts }) {
  const own = calculatorWords[id];
  const label = Object.hasOwn(own.labels, field) ? own.labels[field] : field;
  return filled(own.refusals[code] ?? problemTemplates[code], { label, ...facts });
}

/**
 * What is wrong with a file or an entry, behind its place.
 *
 * @param {{where: string, code: string, facts: Object<string, any>}} problem
 */
export function fileSentence({ where, code, facts }) {
  const shown = facts.what ? { ...facts, what: shapeWords(facts) } : facts;
  return `${where} ${filled(fileWords.problems[code], shown)}`.trim();
}

/** What a value must be. */
export function shapeWords(must) {
  const { shapes, units } = fileWords;
  const what = filled(shapes[must.what], { ...must, unit: units[must.unit] });
  return must.null ? filled(shapes["or-null"], { what }) : what;
}

/** A template with what stands in its {braces}. */
export function filled(template, facts) {
  return template.replace(/\{(\w+)\}/g, (_, name) => facts[name]);
}
