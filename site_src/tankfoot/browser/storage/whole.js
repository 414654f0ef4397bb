/** Everything there is, in slices: no phone has room for a record of years at once, and a tap waits for no more than one. */

import { withStore } from "./database.js";
import { getStored } from "./record.js";
import { valueOf } from "./requests.js";

const AT_ONCE = 200; // entries

/** How many entries there are, tombstones too. @returns {Promise<number>} */
export function countOfAll() {
  return withStore("readonly", (store) => store.count());
}

/**
 * By their ids, tombstones too.
 *
 * @returns {AsyncGenerator<[string, object|undefined][]>} ids and what is stored, damaged or not
 */
export async function* everythingInSlices() {
  for (let last = "", size = AT_ONCE; size === AT_ONCE;) {
    const after = IDBKeyRange.lowerBound(last, true);
    const ids = await withStore("readonly", (store) => valueOf(store.getAllKeys(after, AT_ONCE)));
    const stored = await getStored(ids);
    if (ids.length) yield ids.map((id, place) => [id, stored[place]]);
    [last, size] = [ids.at(-1), ids.length];
  }
}
