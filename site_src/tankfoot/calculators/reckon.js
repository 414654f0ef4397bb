/** Works one sum out, from the texts that were typed to results with their ±. Twin of reckon.py and field.py. */

import { formatIn, formatResult } from "../quantities/format.js";
import { propagate, withinReach } from "../quantities/propagate.js";
import { LONGEST_TEXT, offered, readQuantity, RefusedText } from "../quantities/text.js";
import { calculators } from "./declared.js";

/**
 * @typedef {import("../quantities/text.js").Reading} Reading
 * @typedef {{field: string, code: string, facts: Object<string, string>}} Problem
 * @typedef {{value: number, uncertainty: number|null, unit: string, doubtful: boolean}} Result with its texts
 * @typedef {Object<string, any>} Numbers in SI by name, null where there is none
 * @typedef {{
 *   refusals: (x: Numbers) => [string, string][], compute: (x: Numbers) => Numbers,
 *   remarks: (x: Numbers, y: Numbers|null) => string[], STEPPED?: string[],
 * }} Twin a calculator's module
 * @typedef {{
 *   inputs: Object<string, Reading|null>, results: Object<string, Result|null>, remarks: string[], problems: Problem[],
 * }} Outcome
 */

/** The twin of a calculator's module, by id. */
export function calculatorModule(id) {
  return import(`./${id.replaceAll("-", "_")}.js`);
}

/**
 * @param {string} id
 * @param {Twin} module
 * @param {Object<string, string>} texts
 * @param {string} system
 * @returns {Outcome}
 */
export function reckon(id, module, texts, system) {
  const declared = calculators[id];
  const [readings, problems] = readForm(declared, texts, system);
  if (problems.length) return { inputs: {}, results: {}, remarks: [], problems };
  const inputs = mapValues(readings, (reading) => reading && reading.si);
  const refused = module.refusals(inputs);
  if (refused.length) return outcome(refused.map(([field, code]) => ({ field, code, facts: {} })));
  const values = withinReach(module.compute, inputs);
  const doubts = values && propagate(module.compute, inputs, uncertainties(declared, readings), values);
  if (values === null || !Object.values(doubts).every(Number.isFinite)) {
    return outcome([{ field: Object.keys(declared.fields)[0], code: "out-of-reach", facts: {} }]);
  }
  const steps = module.STEPPED ?? [];
  const results = mapValues(declared.results, (kind, name) => (
    result(values[name], steps.includes(name) ? null : doubts[name] ?? null, offered(kind, system)[0])
  ));
  return { inputs: readings, results, remarks: module.remarks(inputs, values), problems: [] };
}

function outcome(problems) {
  return { inputs: {}, results: {}, remarks: [], problems };
}

/** One field's text, read and held against its limits; throws RefusedText. */
export function readField(declared, text, system) {
  const reading = readQuantity(text, declared.kind, offered(declared.kind, system)[0]);
  if (reading.si < declared.low) throw new RefusedText("too-low");
  if (reading.si > declared.high) throw new RefusedText("too-high");
  return reading;
}

/** What is wrong with one field's text: {code, facts}, or null. */
export function fieldProblem(declared, text, system) {
  try {
    readField(declared, text, system);
    return null;
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return { code: refused.code, facts: facts(declared, system) };
  }
}

/** @returns {[Object<string, Reading|null>, Problem[]]} */
function readForm(declared, texts, system) {
  const readings = {};
  const problems = [];
  for (const [name, field] of Object.entries(declared.fields)) {
    const given = texts[name] ?? "";
    const text = /^[ \t\u00a0\u2009\u202f]*$/.test(given) ? field.defaults[system] ?? "" : given;
    if (text === "" && field.optional) {
      readings[name] = null;
      continue;
    }
    const problem = fieldProblem(field, text, system);
    if (problem) problems.push({ field: name, ...problem });
    else readings[name] = readField(field, text, system);
  }
  for (const name of Object.keys(texts)) {
    if (!Object.hasOwn(declared.fields, name)) problems.push({ field: name, code: "unknown-field", facts: {} });
  }
  return [readings, problems];
}

function facts(field, system) {
  const symbol = offered(field.kind, system)[0];
  const [low, high] = [field.low, field.high].map((si) => formatIn(si, symbol));
  return { low, high, units: offered(field.kind, system).join(", "), longest: String(LONGEST_TEXT) };
}

function uncertainties(declared, readings) {
  const doubts = {};
  for (const [name, reading] of Object.entries(readings)) {
    if (reading === null) continue;
    const doubt = reading.uncertainty ?? usualUncertainty(declared.fields[name], reading.si);
    if (doubt !== null) doubts[name] = doubt;
  }
  return doubts;
}

function usualUncertainty({ relative, absolute, counted }, si) {
  if (counted) return Math.sqrt(Math.max(si, 1.0));
  return relative === null ? absolute : Math.abs(si) * relative;
}

function result(value, uncertainty, unit) {
  if (value === null) return null;
  const doubtful = uncertainty !== null && uncertainty > Math.abs(value);
  return { value, uncertainty, unit, doubtful, ...formatResult(value, uncertainty, unit) };
}

function mapValues(object, fn) {
  return Object.fromEntries(Object.entries(object).map(([name, value]) => [name, fn(value, name)]));
}
