/** What a report takes of each month of the record: made once, kept beside it, and made anew where the record changed. */

import { LAST } from "../../purge/machine.js";
import { asColumns, COLUMNS, factOf } from "../../report/facts.js";
import { missesOf } from "../../report/misses.js";
import { keep, keptOf } from "../storage/facts_kept.js";
import { countOfMonth, entriesOfMonth, firstAndLast } from "../storage/ranges.js";

const KINDS = ["purge", "list-run"];
const NAMED = ["id", "at", "created", "demo", "tank", "tank_name", "kind", "batch", "tool", "assumed"]; // columns that are no numbers
const MADE_BY = `1 ${COLUMNS.join(" ")}`; // what an older app kept is made anew; raise it where a fact changes its meaning

/**
 * @typedef {{count: number, madeBy: string, facts: import("../../report/facts.js").Facts, misses: any[]}} Month
 *   a number nobody told is NaN
 */

/** The months from the first purge to the last, the latest first. @returns {Promise<string[]>} */
export async function monthsOfRecord() {
  const ends = (await Promise.all(KINDS.map(firstAndLast))).flat().sort();
  if (!ends.length) return [];
  const [first, last] = [ends[0], ends.at(-1)].map((instant) => instant.slice(0, 7));
  const months = [];
  for (let month = last; month >= first; month = monthBefore(month)) months.push(month);
  return months;
}

/** @returns {Promise<Month>} */
export async function monthOfRecord(month) {
  const [{ kept, changes }, ...counts] = await Promise.all([keptOf(month), ...KINDS.map((kind) => countOfMonth(kind, month))]);
  const count = counts.reduce((all, each) => all + each, 0);
  if (kept?.count === count && kept.madeBy === MADE_BY) return kept;
  const made = { count, madeBy: MADE_BY, ...await read(month) };
  await keep(month, made, changes);
  return made;
}

async function read(month) {
  const [purges, runs] = await Promise.all([entriesOfMonth("purge", month, tellsOfPurge), entriesOfMonth("list-run", month, tellsOfRun)]);
  const finished = purges.filter(({ body }) => body.state === LAST && tellsAmounts(body));
  const columns = asColumns(finished.map((purge) => factOf(purge, null)));
  const facts = Object.fromEntries(Object.entries(columns).map(([name, values]) => [
    name, NAMED.includes(name) ? values : Float64Array.from(values, (value) => value ?? NaN),
  ]));
  const misses = [...purges, ...runs].flatMap((entry) => {
    const told = missesOf(entry);
    return told ? [{ ...told, demo: entry.demo }] : [];
  });
  return { facts, misses };
}

/** All that is taken of an entry: to look at the whole of thousands would be felt. */
function tellsOfPurge({ body }) {
  return typeof body?.state === "string" && typeof body.table === "string" && Array.isArray(body.events)
    && body.events.every(({ at, state, event }) => isInstant(at) && typeof state === "string" && typeof event === "string");
}

function tellsAmounts({ readings, result, tank_name: name, solids, tank }) {
  return isObject(readings) && isObject(result) && typeof name === "string" && typeof solids === "string"
    && (tank === null || typeof tank === "string") && Object.values(result).every((amount) => Number.isFinite(amount?.value));
}

function tellsOfRun({ body }) {
  return Array.isArray(body?.events) && body.events.every((event) => isObject(event));
}

function isInstant(text) {
  return typeof text === "string" && !Number.isNaN(Date.parse(text));
}

function isObject(found) {
  return typeof found === "object" && found !== null;
}

function monthBefore(month) {
  const [year, number] = month.split("-").map(Number);
  return new Date(Date.UTC(year, number - 2, 1)).toISOString().slice(0, 7);
}

/** @param {Month[]} months @returns {import("../../report/facts.js").Facts} the facts of all of them, one after the other */
export function together(months) {
  return Object.fromEntries(COLUMNS.map((name) => {
    const columns = months.map(({ facts }) => facts[name]);
    if (NAMED.includes(name)) return [name, columns.flat()];
    const all = new Float64Array(columns.reduce((size, column) => size + column.length, 0));
    let place = 0;
    for (const column of columns) {
      all.set(column, place);
      place += column.length;
    }
    return [name, all];
  }));
}
