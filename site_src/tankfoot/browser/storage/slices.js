/** Entries in slices: of thousands only the first few are wanted, unless they are all tombstones. */

import { idsBackwards, wayOf } from "./backwards.js";
import { getStored } from "./record.js";
import { isSound } from "./sound.js";

/**
 * From the last one back, in slices that grow, so that many tombstones are soon passed over.
 *
 * @param {import("./backwards.js").Way} way @param {number} first how many the first slice has
 * @returns {AsyncGenerator<{found: [string, object|undefined][], passed: number}>} ids and what is stored, damaged or
 *   not, but for tombstones; how many were passed in all
 */
export async function* withoutTombstones(way, first) {
  for await (const ids of idsBackwards(way, first)) {
    const stored = await getStored(ids);
    const found = ids.map((id, place) => [id, stored[place]]).filter(([, entry]) => !(entry?.deleted === true));
    yield { found, passed: ids.length };
  }
}

/**
 * The latest of a kind, the last one first: no more is read than gives so many.
 *
 * @param {(entry: any) => boolean} isRight asked of a sound entry that is not deleted @returns {Promise<any[]>}
 */
export async function latestOfKind(kind, count, isRight = () => true) {
  const latest = [];
  for await (const { found } of withoutTombstones(wayOf(kind), count)) {
    latest.push(...found.map(([, entry]) => entry).filter((entry) => isSound(entry) && isRight(entry)));
    if (latest.length >= count) break;
  }
  return latest.slice(0, count);
}
