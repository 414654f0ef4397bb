/** How an entry is written: with what is kept beside it, in one transaction. */

import { forgetAllFacts, forgetFacts, storesOfFacts } from "./facts_kept.js";
import { mark, storesOfMarks, unmark } from "./marks.js";

export const allStores = ["entries", "memory", "marks"];

/** The stores that a transaction has to hold, to write some entries. */
export function storesOf(entries) {
  const besides = [...storesOfFacts(entries), ...storesOfMarks(entries)];
  return besides.length ? ["entries", ...besides] : "entries";
}

/** @param {IDBObjectStore} store of the transaction that writes the entry */
export function write(store, entry) {
  forgetFacts(store, entry);
  mark(store, entry);
  store.put(entry);
}

/** @param {IDBObjectStore} store of a transaction of all stores */
export function takeOut(store, ids) {
  for (const id of ids) {
    unmark(store, id);
    store.delete(id);
  }
  forgetAllFacts(store);
}
