/** What is wrong with an entry, by places and codes. Twin of strict.py and entry.py. */

import { bodies, entry as entryShape } from "./declared.js";

/**
 * @typedef {{where: string, code: string, facts: object, id: string|null}} Problem
 * @typedef {{
 *   id: string, kind: string, created: string, edited: string, deleted: boolean, demo: boolean, body: any,
 *   history: {edited: string, body: any}[],
 * }} Entry
 */

const isNumber = (value) => typeof value === "number" && Number.isFinite(value);

const TYPES = {
  string: (value) => typeof value === "string",
  number: isNumber,
  integer: Number.isInteger,
  boolean: (value) => typeof value === "boolean",
  array: Array.isArray,
  object: (value) => value !== null && typeof value === "object" && !Array.isArray(value),
  null: (value) => value === null,
};

const FORMATS = { "date-time": isInstant };

const KEYWORDS = {
  enum: [() => true, (value, allowed) => allowed.includes(value)],
  minimum: [isNumber, (value, low) => value >= low],
  exclusiveMinimum: [isNumber, (value, low) => value > low],
  maximum: [isNumber, (value, high) => value <= high],
  minLength: [TYPES.string, (value, least) => characters(value) >= least],
  maxLength: [TYPES.string, (value, most) => value.length <= most || characters(value) <= most],
  pattern: [TYPES.string, (value, pattern) => new RegExp(pattern, "u").test(value)],
  format: [TYPES.string, (value, name) => FORMATS[name](value)],
  minItems: [TYPES.array, (value, least) => value.length >= least],
  maxItems: [TYPES.array, (value, most) => value.length <= most],
};

/** @returns {Problem[]} none of an empty list, in the order of their places */
export function checkShape(shape, value, where = "") {
  const found = [...problemsOf(shape, value, where)].map(([place, code, facts]) => ({ where: place, code, facts, id: null }));
  return found.sort((a, b) => (a.where < b.where ? -1 : Number(a.where > b.where)));
}

/** @returns {Problem[]} of one entry, which may be any JSON value; the body of a deleted one is not looked at */
export function checkEntry(entry, where = "") {
  const found = checkShape(entryShape, entry, where);
  if (found.length || entry.deleted) return found;
  const pasts = entry.history.map(({ body }, place) => [`history[${place}].body`, body]);
  const shape = bodies[entry.kind];
  return [["body", entry.body], ...pasts].flatMap(([path, body]) => checkShape(shape, body, step(where, path)));
}

function* problemsOf(shape, value, where) {
  if (![shape.type].flat().some((type) => TYPES[type](value)) || !holds(shape, value)) {
    yield [where, "must-be", shape.what];
    return;
  }
  for (const name of shape.required ?? []) {
    if (!Object.hasOwn(value, name)) yield [step(where, name), "missing", shape.properties[name].what];
  }
  for (const [key, inner, item] of inside(shape, value)) yield* problemsOf(inner, item, step(where, key));
}

function holds(shape, value) {
  return Object.entries(shape).every(([name, limit]) => {
    const [applies, test] = KEYWORDS[name] ?? [() => false];
    return !applies(value) || test(value, limit);
  });
}

/** What is inside a value, as far as its shape knows: [key or place, shape, item]. */
function inside(shape, value) {
  if (value === null) return [];
  if (shape.prefixItems) return value.map((item, place) => [place, shape.prefixItems[place], item]);
  if (shape.items) return value.map((item, place) => [place, shape.items, item]);
  if (shape.additionalProperties) return Object.keys(value).map((key) => [key, shape.additionalProperties, value[key]]);
  const known = Object.entries(shape.properties ?? {}).filter(([name]) => Object.hasOwn(value, name));
  return known.map(([name, inner]) => [name, inner, value[name]]);
}

function step(where, key) {
  if (typeof key === "number") return `${where}[${key}]`;
  return where ? `${where}.${key}` : key;
}

function characters(text) {
  return Array.from(text).length;
}

/** A day that the calendar does not have is moved on by Date, and so found out. */
function isInstant(text) {
  const time = Date.parse(text);
  return Number.isFinite(time) && new Date(time).toISOString() === text;
}
