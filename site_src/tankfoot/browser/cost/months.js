/** What a report takes of each month of the record: made once, kept beside it, and made anew where the record changed. */

import { wallText } from "../../batches/wall_clock.js";
import { LAST } from "../../purge/machine.js";
import { asColumns, COLUMNS, factOf } from "../../report/facts.js";
import { missesOf } from "../../report/misses.js";
import { keepFacts, keptFacts } from "../storage/facts_kept.js";
import { countOf, entriesOfMonth, firstAndLast } from "../storage/ranges.js";
import { tellsAmounts, tellsOfPurge, tellsOfRun } from "./tells.js";

const KINDS = ["purge", "list-run"];
const AT_ONCE = 12; // months read from their entries at a time
const MANY = 20_000; // entries
const NAMED = ["id", "at", "created", "demo", "tank", "tank_name", "kind", "batch", "tool", "assumed", "watched"]; // columns that are no numbers
const MADE_BY = `1 ${COLUMNS.join(" ")}`; // what an older app kept is made anew; raise it where a fact changes its meaning

/**
 * @typedef {object} Month
 * @property {string} month such as "2026-03", of UTC
 * @property {number} count of its entries
 * @property {string} madeBy
 * @property {import("../../report/facts.js").Facts} facts a number nobody told is NaN
 * @property {string} zone
 * @property {string[]} local the month of each fact, by the clock in that zone
 * @property {any[]} misses
 */

/**
 * The months from the first purge to the last, the latest first, some at a time: those that are kept, the others read.
 *
 * @returns {AsyncGenerator<{read: Month[], count: number}>} `count`: how many there are in all
 */
export async function* monthsOfRecord(zone) {
  const [ends, sound] = await Promise.all([Promise.all(KINDS.map(firstAndLast)), countOf(KINDS)]);
  const names = monthsBetween(ends.flat().sort());
  const writes = []; // nobody waits for them until all is given
  let left = sound; // entries of months that were not given yet
  try {
    for (const part of inParts(names, sound)) {
      const { kept, changes } = await keptFacts(part.at(-1), part[0]);
      const known = new Map(kept.filter(({ madeBy }) => madeBy === MADE_BY).map((each) => [each.month, each]));
      const take = async (some, isSure) => {
        const months = await Promise.all(some.map((name) => monthOf(name, isSure, known.get(name), zone)));
        const made = months.filter((month) => month !== known.get(month.month));
        if (made.length) writes.push(keepFacts(made, changes));
        for (const month of made) known.set(month.month, month);
        return months;
      };
      const missing = part.filter((name) => !known.has(name)); // most often the month that it is now
      if (missing.length < AT_ONCE) await take(missing, false);
      const isAll = part.every((name) => known.has(name)) && entriesIn([...known.values()]) === left;
      const wanted = [...part];
      while (wanted.length) {
        const months = await take(isAll ? wanted.splice(0) : wanted.splice(0, AT_ONCE), isAll);
        left -= entriesIn(months);
        yield { read: months, count: names.length };
      }
    }
  } finally {
    await Promise.all(writes);
  }
}

/** Of a large record the latest months come first: what is kept of all of them takes a while to read too. */
function inParts(names, entries) {
  const latest = entries > MANY ? names.slice(0, AT_ONCE) : [];
  return [latest, names.slice(latest.length)].filter((part) => part.length > 0);
}

function entriesIn(months) {
  return months.reduce((all, { count }) => all + count, 0);
}

/** @returns {Promise<Month>} */
async function monthOf(month, isSure, known, zone) {
  const count = isSure ? known.count : await countOf(KINDS, month);
  if (known?.count === count) return known.zone === zone ? known : { ...known, ...localOf(known.facts, zone) };
  const { facts, misses } = await read(month);
  return { month, count, madeBy: MADE_BY, facts, ...localOf(facts, zone), misses };
}

function localOf({ at }, zone) {
  return { zone, local: at.map((instant) => wallText(instant, zone).slice(0, 7)) };
}

function monthsBetween(instants) {
  if (!instants.length) return [];
  const [first, last] = [instants[0], instants.at(-1)].map((instant) => instant.slice(0, 7));
  const months = [];
  for (let month = last; month >= first; month = monthsAfter(month, -1)) months.push(month);
  return months;
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

/** The months that entries of a month of UTC may be of, by a clock on the wall. */
export function monthsBeside(month) {
  return [monthsAfter(month, -1), month, monthsAfter(month, 1)];
}

function monthsAfter(month, count) {
  const [year, number] = month.split("-").map(Number);
  return new Date(Date.UTC(year, number - 1 + count, 1)).toISOString().slice(0, 7);
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
