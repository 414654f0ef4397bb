/** Purges by what they are compared by: tank, batch, kind of solids, month, week. Twin of groups.py. */

import { wallText } from "../batches/wall_clock.js";
import { bodies } from "../record/declared.js";

const DAY = 86_400_000; // ms
const NAMES = ["tanks", "batches", "solids", "months", "weeks"];

/**
 * @param {import("./facts.js").Facts} facts @param {Map<string, string>|Object<string, string>} names of tanks, by id
 * @returns {Object<string, [string, number[]][]>} by what, names and rows: see groups.py
 */
export function groupsOf(facts, names, zone) {
  const nameOf = names instanceof Map ? names : new Map(Object.entries(names));
  const by = NAMES.map(() => new Map());
  for (const [row, at] of facts.at.entries()) {
    const day = wallText(at, zone).slice(0, 10);
    const tank = nameOf.get(facts.tank[row]) ?? facts.tank_name[row];
    for (const [place, key] of [tank, facts.batch[row], facts.kind[row], day.slice(0, 7), weekOf(day)].entries()) {
      if (key === null) continue;
      if (!by[place].has(key)) by[place].set(key, []);
      by[place].get(key).push(row);
    }
  }
  const kinds = /** @type {any} */ (bodies.purge).properties.solids.enum;
  return Object.fromEntries(NAMES.map((name, place) => [
    name, [...by[place]].sort(([a], [b]) => (name === "solids" ? kinds.indexOf(a) - kinds.indexOf(b) : a < b ? -1 : 1)),
  ]));
}

/** The week of a day by ISO 8601: it begins on a Monday, and is of the year that has its Thursday. */
export function weekOf(day) {
  const count = Date.parse(day) / DAY;
  const thursday = count - ((count + 3) % 7 + 7) % 7 + 3;
  const year = new Date(thursday * DAY).getUTCFullYear();
  const week = Math.floor((thursday - Date.UTC(year, 0, 1) / DAY) / 7) + 1;
  return `${String(year).padStart(4, "0")}-W${String(week).padStart(2, "0")}`;
}
