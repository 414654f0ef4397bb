/** Whether a day more of rest saves beer: the slope of what a purge loses on the days before it. Twin of rest.py. */

import { median } from "./median.js";

export const LATEST_RESTS = 60; // purges: their 1,770 pairs are sorted while a hand waits
const FEWEST = 10;
const TWO_SIDED_95 = 1.959963984540054;

/**
 * The median of the slopes between any two points with different x, and its interval with a chance of 95 %.
 *
 * @param {number[]} xs @param {number[]} ys
 * @returns {{slope: number, low: number, high: number}|null} null where no two x differ, or where all y are one
 */
export function theilSen(xs, ys) {
  const found = [];
  for (const [place, x] of xs.entries()) {
    for (const [other, otherX] of xs.entries()) if (x > otherX) found.push((ys[place] - ys[other]) / (x - otherX));
  }
  const slopes = found.sort((a, b) => a - b);
  const variance = (turns(xs.length) - turnsOfTies(xs) - turnsOfTies(ys)) / 18.0;
  if (!slopes.length || variance <= 0.0) return null;
  const reach = TWO_SIDED_95 * Math.sqrt(variance);
  const low = Math.max(Math.round((slopes.length - reach) / 2.0) - 1, 0);
  const high = Math.min(Math.round((slopes.length + reach) / 2.0), slopes.length - 1);
  return { slope: /** @type {number} */ (median(slopes)), low: slopes[low], high: slopes[high] };
}

function turnsOfTies(values) {
  const counts = new Map();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts.values()].reduce((all, count) => all + turns(count), 0);
}

function turns(count) {
  return count * (count - 1) * (2 * count + 5);
}

/**
 * What a day more of rest does to the loss of a purge here, m3 a day; null where the record cannot tell yet.
 *
 * @param {{rest: number, loss: number}[]} purges of one tank and one kind of solids, the oldest first
 * @returns {{a_day: number, low: number, high: number, count: number}|null} `a_day` is below zero where a day more saved
 */
export function restEffect(purges) {
  const latest = purges.slice(-LATEST_RESTS);
  const found = theilSen(latest.map(({ rest }) => rest), latest.map(({ loss }) => loss));
  if (latest.length < FEWEST || found === null || (found.low <= 0.0 && found.high >= 0.0)) return null;
  return { a_day: found.slope, low: found.low, high: found.high, count: latest.length };
}
