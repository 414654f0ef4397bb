/** Entries in slices: of thousands only the first few are wanted, unless they are all tombstones. */

import { getStored } from "./record.js";

const LARGEST = 1000;

/**
 * Takes the first of `ids` out, in slices that grow, so that many tombstones are soon passed over.
 *
 * @param {string[]} ids @param {number} first how many the first slice has
 * @returns {AsyncGenerator<[string, object|undefined][]>} ids and what is stored, damaged or not, but for tombstones
 */
export async function* withoutTombstones(ids, first) {
  for (let size = first; ids.length; size = Math.min(2 * size, LARGEST)) {
    const some = ids.splice(0, size);
    const stored = await getStored(some);
    yield some.map((id, place) => [id, stored[place]]).filter(([, entry]) => !(entry?.deleted === true));
  }
}
