/** How far a figure goes from purge to purge by itself, and what goes further. Twin of limits.py. */

import { median } from "../usual/median.js";
import { exactSum } from "./exact.js";

export const LEAST = 10; // values
export const RUN = 8;
const FORMS = { mean: 3.0 / 1.128, median: 3.0 / 0.954 };

/** @typedef {{centre: number, moving_range: number, low: number, high: number}} Limits */

/** @param {number[]} values in time @param {"mean"|"median"} form @returns {Limits|null} */
export function naturalLimits(values, form = "median") {
  if (values.length < LEAST) return null;
  const ranges = values.slice(1).map((after, place) => Math.abs(after - values[place]));
  const centre = middle(values, form);
  let [movingRange, times] = [middle(ranges, form), FORMS[form]];
  if (!movingRange) [movingRange, times] = [middle(ranges, "mean"), FORMS.mean];
  if (!movingRange) return null;
  const wide = times * movingRange;
  return { centre, moving_range: movingRange, low: centre - wide, high: centre + wide };
}

function middle(values, form) {
  return form === "median" ? median(values) : exactSum(values) / values.length;
}

/** @param {number[]} values in time @param {Limits|null} limits @returns {(string|null)[]} what rule each breaks */
export function signals(values, limits) {
  if (limits === null) return values.map(() => null);
  let [side, length] = [0, 0];
  return values.map((value) => {
    const now = Math.sign(value - limits.centre);
    length = now === side ? length + 1 : 1;
    side = now;
    return broken(value, limits, side, length);
  });
}

function broken(value, { low, high }, side, length) {
  if (value > high) return "above_limit";
  if (value < low) return "below_limit";
  if (length < RUN || !side) return null;
  return side > 0 ? "run_above" : "run_below";
}
