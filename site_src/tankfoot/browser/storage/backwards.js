/**
 * Entries from the last one back, in the order of an index: some at a time, so that a record of years costs what is
 * looked at.
 *
 * @typedef {{index: string, start: any[], store?: string}} Way an index and the first of its keys
 */

import { withStore } from "./database.js";
import { valueOf } from "./requests.js";

export const NO_TANK = "none";

const LARGEST = 1000; // read at a time

/** The entries of a kind by the day they were made. @param {string|null} tank of this tank alone, or purges of NO_TANK @returns {Way} */
export function wayOf(kind, tank = null) {
  if (tank === NO_TANK) return { index: "tankless", start: [kind], store: "marks" };
  return tank ? { index: "of-tank-by-day", start: [kind, tank] } : { index: "by-day", start: [kind] };
}

/** How many entries are on a way. @param {Way} way @returns {Promise<number>} */
export function countOn({ index, start, store = "entries" }) {
  return withStore("readonly", (found) => valueOf(found.index(index).count(rangeOf(start))), store);
}

/** The ids of the last few, the last one first. @param {Way} way @returns {Promise<string[]>} */
export async function latestIds(way, count) {
  return (await placesBefore(way, null, count)).map(({ id }) => id);
}

/**
 * The ids from the last one back, in slices that grow, so that what is passed over is soon passed.
 *
 * @param {Way} way @param {number} first how many the first slice has @returns {AsyncGenerator<string[]>}
 */
export async function* idsBackwards(way, first) {
  let last = null;
  for (let size = first; ; size = Math.min(2 * size, LARGEST)) {
    const places = await placesBefore(way, last, size);
    if (places.length) yield places.map(({ id }) => id);
    if (places.length < size) return;
    last = places.at(-1);
  }
}

/** @param {Way} way @param {{key: any[], id: string}|null} last the place before which these are, null for the end */
function placesBefore({ index, start, store = "entries" }, last, count) {
  return withStore("readonly", (found) => new Promise((resolve, reject) => {
    const places = [];
    const request = found.index(index).openKeyCursor(last ? IDBKeyRange.bound(start, last.key) : rangeOf(start), "prev");
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const cursor = request.result;
      if (!cursor) return resolve(places);
      const { key, primaryKey: id } = cursor;
      // Several may have one key: those of it that were given already are leapt over.
      const isGiven = last !== null && indexedDB.cmp(key, last.key) === 0 && id >= last.id;
      if (isGiven && id > last.id) return cursor.continuePrimaryKey(last.key, last.id);
      if (!isGiven) places.push({ key, id });
      return places.length === count ? resolve(places) : cursor.continue();
    };
  }), store);
}

export function rangeOf(start, since = null) {
  return IDBKeyRange.bound(since ? [...start, since] : start, [...start, []]); // an array sorts after every text
}
