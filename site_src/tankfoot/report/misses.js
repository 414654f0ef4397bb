/** What went nearly wrong: told by purges and lists, counted by month and never by person. Twin of misses.py. */

import { wallText } from "../batches/wall_clock.js";
import { SKIP, standing, tables, TROUBLE } from "../purge/machine.js";

const WRONG = ["tank-side", "other"]; // answers to which clamp is opened that would have opened another one
const COUNTS = ["wrong", "stops", "cards", "skipped"];

/** @typedef {{at: string, wrong: number, stops: number, cards: number, skipped: number, reasons: string[]}} Misses */

/** What a purge or the run of a list tells; null where nothing went nearly wrong. @returns {Misses|null} */
export function missesOf({ kind, created, body }) {
  const told = kind === "purge" ? ofPurge(body) : ofList(body);
  return COUNTS.some((name) => told[name] > 0) ? { at: created, ...told } : null;
}

/** @param {Misses[]} misses @returns {[string, any][]} months and what was told in them: see misses.py */
export function missesByMonth(misses, zone) {
  const months = new Map();
  for (const told of misses) {
    const name = wallText(told.at, zone).slice(0, 7);
    if (!months.has(name)) months.set(name, { wrong: 0, stops: 0, cards: 0, skipped: 0, reasons: new Map() });
    const month = months.get(name);
    for (const count of COUNTS) month[count] += told[count];
    for (const reason of told.reasons) month.reasons.set(reason, (month.reasons.get(reason) ?? 0) + 1);
  }
  return [...months].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, month]) => (
    [name, { ...month, reasons: [...month.reasons].sort(frequent) }]
  ));
}

function ofPurge({ table, state, events }) {
  const steps = Object.hasOwn(tables, table) ? tables[table] : {};
  const isStop = (name) => Object.hasOwn(steps, name) && steps[name].stop === true;
  const skips = standing(events).filter(({ event }) => event === SKIP);
  const left = events.filter((each) => isStop(each.state) && Object.hasOwn(steps[each.state].events, each.event));
  return {
    wrong: events.filter(({ event }) => WRONG.includes(event)).length,
    stops: left.length + Number(isStop(state)),
    cards: events.filter(({ event }) => event === TROUBLE).length,
    skipped: skips.length, reasons: reasonsOf(skips.map(({ data }) => data ?? {})),
  };
}

function ofList({ events }) {
  const skips = events.filter(({ done, reason }) => !done && reason);
  return {
    wrong: 0, stops: 0, cards: events.filter(({ aged }) => aged === "card").length,
    skipped: skips.length, reasons: reasonsOf(skips),
  };
}

function reasonsOf(said) {
  return said.map(({ reason }) => reason).filter(Boolean);
}

function frequent([a, one], [b, other]) {
  return other - one || (a < b ? -1 : 1);
}
