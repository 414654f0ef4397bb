/** The readings taken at a step of the purge: what stands in its fields, and whether each can be read. */

import { calculators } from "../../calculators/declared.js";
import { fieldProblem } from "../../calculators/reckon.js";
import { readings } from "../../purge/declared.js";
import { settings } from "../storage/settings.js";
import { problemSentence } from "../../wording/sentences.js";
import { fill, fillUnits, findFields, textOf } from "../parts/fields.js";

const MAY_STAY_EMPTY = ["pressure_after", "flow", "collected_volume", "collected_mass", "beer_share"];

/** Every reading's declared quantity, in the shape that the fields of a page are found by. */
const declared = {
  fields: Object.fromEntries(Object.entries(readings).map(([name, [calculator, field]]) => (
    [name, calculators[calculator].fields[field]]
  ))),
};

export function fieldsIn(root) {
  return findFields(root, declared);
}

/** Puts what is known of each reading into a step's fields, and nothing where nothing is known. */
export function showReadings(section, texts) {
  for (const field of fieldsIn(section)) {
    fillUnits(field.unit);
    field.entry.value = "";
    if (texts[field.name]) fill(field, texts[field.name]);
    field.problem.textContent = "";
  }
}

/**
 * What stands in a step's fields now; what cannot be read is told beside its field once it was typed or `tapped` past.
 *
 * @returns {{texts: Object<string, string>, wrong: object|undefined}} what can be read, the first field that cannot
 */
export function readingsIn(section, tapped = false) {
  const texts = {};
  let wrong;
  for (const field of fieldsIn(section)) {
    const text = textOf(field);
    const problem = text === "" && MAY_STAY_EMPTY.includes(field.name) ? null : problemOf(field, text);
    field.problem.textContent = (tapped || text !== "") && problem ? problem : "";
    if (problem) wrong ??= field;
    else texts[field.name] = text;
  }
  return { texts, wrong };
}

function problemOf(field, text) {
  const problem = fieldProblem(field.declared, text, settings().system);
  if (!problem) return null;
  const [calculator, name] = readings[field.name];
  return problemSentence(calculator, { field: name, ...problem });
}
