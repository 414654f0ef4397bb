/** How far a camera beside the sight glass can be trusted, by what the hand tapped. Twin of trust.py. */

import { median } from "../usual/median.js";
import { isTold } from "./facts.js";

export const CLOSE = 2.0;
const FEWEST = 3;

/**
 * @typedef {{watched: number, tapped: number, close: number, missed: number, early: number, late: number, median: number|null}} Trust
 * @param {import("./facts.js").Facts} facts @param {number[]} rows @returns {Trust|null} null where nothing was watched
 */
export function trustOf(facts, rows) {
  const watched = rows.filter((row) => facts.watched[row]);
  if (!watched.length) return null;
  const tapped = watched.filter((row) => isTold(facts.tapped[row]));
  const seen = tapped.filter((row) => isTold(facts.seen[row]));
  const later = seen.map((row) => facts.seen[row] - facts.tapped[row]);
  const count = (is) => later.filter(is).length;
  return {
    watched: watched.length, tapped: tapped.length, close: count((each) => Math.abs(each) <= CLOSE),
    missed: tapped.length - seen.length, early: count((each) => each < -CLOSE), late: count((each) => each > CLOSE),
    median: later.length < FEWEST ? null : median(later),
  };
}
