/** What a purge is expected to let out, from the tank's own past, and what to catch it in. Twin of expected.py. */

import { median } from "./median.js";
import { tells } from "./purges.js";

const FEWEST_OF_KIND = 3;

/**
 * The usual volume lost of the bodies of a tank's purges, m3, of one kind of solids where there are three.
 *
 * @param {any[]} purges @param {string} solids
 * @returns {{value: number, count: number, of_kind: boolean}|null} null where none tells it
 */
export function expectedLoss(purges, solids) {
  const told = purges.filter(({ result }) => Object.hasOwn(result, "volume_lost") && tells(result.volume_lost));
  const same = told.filter((body) => body.solids === solids);
  const isEnough = same.length >= FEWEST_OF_KIND;
  const taken = isEnough ? same : told;
  const value = median(taken.map(({ result }) => result.volume_lost.value));
  return value === null ? null : { value, count: taken.length, of_kind: isEnough };
}

/** How many buckets of a size take a volume: the next whole one, since one that is full to the brim spills. */
export function bucketsFor(volume, bucket) {
  return Math.floor(volume / bucket) + 1;
}
