/** Entries by the keys of an index: of a record that grows for years, only what is wanted is read. */

/** @typedef {import("./record.js").Entry} Entry */

import { rangeOf } from "./backwards.js";
import { withStore } from "./database.js";
import { getEach } from "./record.js";
import { valueOf } from "./requests.js";
import { isSound, isWhole } from "./sound.js";

/**
 * The sound entries under the first keys of an index, in the order of its last one, those not deleted.
 *
 * @param {string} index @param {string[]} start @param {string|null} since the least of the last key
 * @returns {Promise<Entry[]>}
 */
export async function entriesUnder(index, start, since = null) {
  return (await entriesUnderEach([{ index, start, since }]))[0];
}

/**
 * The same for several ranges, all read in one transaction.
 *
 * @param {{index: string, start: string[], since?: string|null}[]} ranges
 * @param {(entry: any) => boolean} isRight what is asked of an entry: a reader of many that takes little of each looks at that
 * @returns {Promise<Entry[][]>}
 */
export async function entriesUnderEach(ranges, isRight = isSound) {
  const found = await withStore("readonly", (store) => Promise.all(ranges.map(({ index, start, since }) => (
    valueOf(store.index(index).getAll(rangeOf(start, since)))
  ))));
  const whole = await Promise.all(found.map((entries, place) => entries ?? oneByOne(ranges[place])));
  return whole.map((entries) => entries.filter((entry) => entry !== undefined && isRight(entry) && !entry.deleted && isWhole(entry)));
}

/** The entries of a kind that were made in a month ("2026-03", UTC), as `entriesUnder` gives them. */
export async function entriesOfMonth(kind, month, isRight) {
  const range = monthOf(kind, month);
  const found = await withStore("readonly", (store) => valueOf(store.index("by-day").getAll(range)));
  const entries = found ?? await getEach(await withStore("readonly", (store) => store.index("by-day").getAllKeys(range)));
  return entries.filter((entry) => entry !== undefined && !entry.deleted && isRight(entry));
}

/** How many entries of some kinds there are, tombstones too, or were made in a month. @returns {Promise<number>} */
export async function countOf(kinds, month = "") {
  const counts = await withStore("readonly", (store) => Promise.all(kinds.map((kind) => (
    valueOf(store.index("by-day").count(monthOf(kind, month)))
  ))));
  return counts.reduce((all, count) => all + count, 0);
}

/** When the first and the last entry of a kind were made; none of an empty list where there is none. @returns {Promise<string[]>} */
export async function firstAndLast(kind) {
  const keys = await withStore("readonly", (store) => Promise.all(["next", "prev"].map((way) => (
    valueOf(store.index("by-day").openKeyCursor(rangeOf([kind]), way)).then((cursor) => cursor?.key[1] ?? null)
  ))));
  return keys.filter((key) => key !== null);
}

function monthOf(kind, month) {
  return IDBKeyRange.bound([kind, month], [kind, `${month}\uffff`]);
}

/** Where one of them is damaged, the others are still read. */
async function oneByOne({ index, start, since }) {
  return getEach(await withStore("readonly", (store) => store.index(index).getAllKeys(rangeOf(start, since))));
}

/**
 * The entries under the latest `count` keys of an index, in its order; more where several have the first of these keys.
 *
 * @param {(entry: any) => boolean} isRight see entriesUnderEach
 * @returns {Promise<Entry[]>}
 */
export async function latestUnder(index, start, count, isRight = isSound) {
  const since = await withStore("readonly", (store) => new Promise((resolve, reject) => {
    const request = store.index(index).openKeyCursor(rangeOf(start), "prev");
    let isPassed = count === 1;
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const cursor = request.result;
      if (cursor && !isPassed) cursor.advance(count - 1);
      else resolve(cursor ? /** @type {any[]} */ (cursor.key).at(-1) : null);
      isPassed = true;
    };
  }));
  return (await entriesUnderEach([{ index, start, since }], isRight))[0];
}
