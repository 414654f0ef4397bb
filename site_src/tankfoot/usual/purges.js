/** What is usual for a tank, from its latest purges. Twin of purges.py. */

import { median } from "./median.js";

export const LATEST = 20; // purges that tell what is usual: a hand should not wait until thousands are read

/** The median of a result over the bodies of purges, in its SI unit; null where none tells it. */
export function usualResult(purges, name) {
  const amounts = purges.filter(({ result }) => Object.hasOwn(result, name)).map(({ result }) => result[name]);
  return median(amounts.filter(tells).map(({ value }) => value));
}

/** Whether an amount is at least as large as its ±. @param {{value: number, uncertainty: number|null}} amount */
export function tells({ value, uncertainty }) {
  return uncertainty === null || uncertainty <= Math.abs(value);
}
