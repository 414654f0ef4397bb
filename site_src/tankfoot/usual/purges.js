/** What is usual for a tank, from its latest purges. Twin of purges.py. */

import { median } from "./median.js";

export const LATEST = 20; // purges that tell what is usual: a hand should not wait until thousands are read

/** The median of a result over the bodies of purges, in its SI unit; null where none has it. */
export function usualResult(purges, name) {
  return median(purges.filter(({ result }) => Object.hasOwn(result, name)).map(({ result }) => result[name].value));
}
