/**
 * What a report has taken of each month's entries, kept beside the record: made anew from that at any time. Whoever
 * writes an entry forgets its month in the same transaction, so that what is kept is never older than the record.
 */

import { withStore } from "./database.js";

const CHANGES = "facts-changes"; // counts what was forgotten
const KINDS = ["purge", "list-run"];
const ALL = IDBKeyRange.bound(keyOf("0000-00"), keyOf("9999-99"));

/** The stores that a transaction needs besides, to write some entries. */
export function storesOfFacts(entries) {
  return entries.some(isTaken) ? ["memory"] : [];
}

/** @param {IDBObjectStore} store of the transaction that writes the entry */
export function forgetFacts(store, entry) {
  if (isTaken(entry)) forget(store, keyOf(entry.created));
}

/** @param {IDBObjectStore} store */
export function forgetAllFacts(store) {
  forget(store, ALL);
}

/** A report looks at nothing that is under way. */
function isTaken({ kind, body }) {
  return KINDS.includes(kind) && body?.open !== 1;
}

function forget(store, what) {
  const memory = store.transaction.objectStore("memory");
  memory.delete(what);
  const found = memory.get(CHANGES);
  found.onsuccess = () => memory.put((found.result ?? 0) + 1, CHANGES);
}

/** What is kept of some months, and how much had been forgotten till then. @returns {Promise<{kept: any[], changes: number}>} */
export function keptFacts(first, last) {
  return withStore("readonly", (memory) => new Promise((resolve) => {
    const [kept, changes] = [memory.getAll(IDBKeyRange.bound(keyOf(first), keyOf(last))), memory.get(CHANGES)];
    changes.onsuccess = () => resolve({ kept: kept.result, changes: changes.result ?? 0 });
  }), "memory");
}

/** Keeps what was made of months, unless something was forgotten since: that may have been of one of these. */
export function keepFacts(made, changes) {
  return withStore("readwrite", (memory) => {
    const found = memory.get(CHANGES);
    found.onsuccess = () => {
      if ((found.result ?? 0) === changes) for (const each of made) memory.put(each, keyOf(each.month));
    };
    return found;
  }, "memory");
}

function keyOf(instant) {
  return `facts ${instant.slice(0, 7)}`;
}
