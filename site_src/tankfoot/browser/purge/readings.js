/** The readings taken at a step of the purge: what stands in its fields, and whether each can be read. */

import { calculators } from "../../calculators/declared.js";
import { fieldProblem } from "../../calculators/reckon.js";
import { buckets, readings } from "../../purge/declared.js";
import { settings } from "../storage/settings.js";
import { readingUnit } from "../parts/reading_unit.js";
import { fill, fillUnits, findFields, textOf } from "../parts/fields.js";
import { showLast } from "./instruments.js";
import { readingOf } from "./reading_texts.js";
import { problemText } from "../parts/problem_text.js";

const MAY_STAY_EMPTY = ["pressure_after", "flow", "collected_volume", "collected_mass", "beer_share"];

/** Every reading's declared quantity, in the shape that the fields of a page are found by. */
const declared = {
  fields: Object.fromEntries(Object.entries(readings).map(([name, [calculator, field]]) => (
    [name, calculators[calculator].fields[field]]
  ))),
};

export function mayStayEmpty(name) {
  return MAY_STAY_EMPTY.includes(name);
}

export function fieldsIn(root) {
  return findFields(root, declared);
}

/**
 * Puts what is known of each reading into a step's fields, and nothing where nothing is known.
 *
 * @param {{texts: Object<string, string>, last: object, hidden: string[]}} shown what stands in them, what an instrument
 *   showed last, and what is not asked for
 */
export function showReadings(section, { texts, last, hidden }) {
  for (const field of fieldsIn(section)) {
    field.box.hidden = hidden.includes(field.name);
    showLast(field, last[field.name]);
    fillUnits(field.unit);
    if (buckets.includes(field.name)) field.unit.value = readingUnit(field.name);
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
    const isOptional = field.box.hidden || mayStayEmpty(field.name);
    const problem = text === "" && isOptional ? null : problemOf(field, text);
    const isTold = tapped || text !== "" || field.problem.textContent !== "";
    field.problem.textContent = isTold && problem ? problem : "";
    if (problem) wrong ??= field;
    else texts[field.name] = text;
  }
  return { texts, wrong };
}

/** The same of all sections of a screen: a reading that two of them ask for counts where it stands first. */
export function readingsOf(sections, tapped = false) {
  const all = sections.map((section) => readingsIn(section, tapped));
  return {
    texts: Object.assign({}, ...all.map(({ texts }) => texts).reverse()),
    wrong: all.map(({ wrong }) => wrong).find(Boolean),
  };
}

/** The quantities that stand in a step's fields, even those that no sum would take. */
export function typedIn(section) {
  const texts = fieldsIn(section).map((field) => [field.name, textOf(field)]);
  return Object.fromEntries(texts.filter(([name, text]) => readingOf(name, text) !== null));
}

function problemOf(field, text) {
  const problem = fieldProblem(field.declared, text, settings().system);
  if (!problem) return null;
  const [calculator, name] = readings[field.name];
  return problemText(calculator, { field: name, ...problem });
}
