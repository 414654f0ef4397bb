/** What "saved" is counted from, and that stands still. Twin of baseline.py. */

import { median } from "../usual/median.js";
import { isTold } from "./facts.js";

export const FIRST = 10; // purges of a kind, where the owner names no period
export const LEAST = 5; // purges of a kind in a period that can tell

/**
 * How late the port was closed in purges that stay the same ones, by kind of solids; of a kind with too few, nothing.
 *
 * @param {import("./facts.js").Facts} facts @param {string|null} since an instant @param {string|null} until
 * @returns {Object<string, {seconds: number, purges: number}>}
 */
export function baselineOf(facts, since, until) {
  const keys = facts.at.map((at, row) => at + facts.id[row]);
  const rows = keys.map((_, row) => row).sort((a, b) => (keys[a] < keys[b] ? -1 : 1));
  const times = new Map();
  for (const row of rows) {
    const [at, past, kind] = [facts.at[row], facts.past[row], facts.kind[row]];
    if (!isTold(past) || (since !== null && at < since) || (until !== null && at >= until)) continue;
    if (!times.has(kind)) times.set(kind, []);
    times.get(kind).push(past);
  }
  const isPeriod = since !== null || until !== null;
  const kept = [...times].map(([kind, past]) => [kind, isPeriod ? past : past.slice(0, FIRST)]);
  const told = kept.filter(([, past]) => past.length >= (isPeriod ? LEAST : FIRST));
  return Object.fromEntries(told.map(([kind, past]) => [kind, { seconds: median(past), purges: past.length }]));
}
