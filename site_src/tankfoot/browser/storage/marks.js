/**
 * What a record of years would have to be searched for: purges under way, purges without a tank, holds that nobody
 * lifted. A row of each lies in a store of its own, written with its entry in one transaction: no index of the entries
 * tells a tombstone, or what has no tank, from the others. Each member of a row has an index, and each entry that an
 * index of the entries has in question is a row of it, so that their numbers can be compared.
 */

import { valueOf, whenRead } from "./requests.js";

export const MARKS = "marks";
export const PURGES = IDBKeyRange.bound(["purge"], ["purge", []]); // an array sorts after every text

const KINDS = ["purge", "tank-hold"];

/** The stores that a transaction needs besides, to write some entries. */
export function storesOfMarks(entries) {
  return entries.some(isMarked) ? [MARKS] : [];
}

/** @param {IDBObjectStore} store of the transaction that writes the entry */
export function mark(store, entry) {
  if (!isMarked(entry)) return;
  const row = rowOf(entry);
  const marks = store.transaction.objectStore(MARKS);
  if (Object.keys(row).length > 1) marks.put(row);
  else marks.delete(entry.id);
}

/** @param {IDBObjectStore} store of the transaction that takes the entry out */
export function unmark(store, id) {
  store.transaction.objectStore(MARKS).delete(id);
}

function isMarked({ kind, body }) {
  return KINDS.includes(kind) || body?.open === 1;
}

function rowOf({ id, kind, created, deleted, body }) {
  const isOpen = body?.open === 1;
  const isHolding = !deleted && body?.lifted === null && typeof body.tank === "string";
  return {
    id,
    ...(isOpen && { open: deleted || kind !== "purge" ? 0 : 1 }),
    ...(kind === "purge" && !isKey(body?.tank) && { tankless: [kind, created] }),
    ...(kind === "tank-hold" && { holds: isHolding ? body.tank : "" }),
  };
}

/** Whether an index can have it. */
function isKey(value) {
  try {
    return indexedDB.cmp(value, value) === 0;
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    return false;
  }
}

/** The ids of purges under way, within a transaction of both stores; where the marks do not fit, of all that have been. */
export function whenUnderWay(store, found) {
  const [open, marked] = [store, store.transaction.objectStore(MARKS)].map((each) => each.index("open"));
  whenRead(open.count(1), (count) => whenRead(marked.count(), (rows) => (
    whenRead((count === rows ? marked : open).getAllKeys(1), found)
  )));
}

/** Within a transaction of both stores. @param {IDBObjectStore} entries */
export async function rowsAnew(entries) {
  const marks = entries.transaction.objectStore(MARKS);
  const rows = await rowsIn(entries);
  marks.clear();
  for (const row of rows) marks.put(row);
  return rows;
}

/** The rows as the entries have them. @param {IDBObjectStore} entries @returns {Promise<any[]>} */
export async function rowsIn(entries) {
  const keysOf = async (index, range) => new Set(await valueOf(entries.index(index).getAllKeys(range)));
  const [open, holds, purges, ofTanks] = await Promise.all([
    keysOf("open", 1), keysOf("kind", "tank-hold"), keysOf("by-day", PURGES), keysOf("of-tank-by-day", PURGES),
  ]);
  const tankless = new Set([...purges].filter((id) => !ofTanks.has(id)));
  const ids = [...new Set([...open, ...holds, ...tankless])];
  const found = await Promise.all(ids.map((id) => valueOf(entries.get(id))));
  return ids.map((id, place) => (found[place] ? rowOf(found[place]) : {
    // The phone has lost a part of it: a row all the same, so that their number is right.
    id, ...(open.has(id) && { open: 0 }), ...(holds.has(id) && { holds: "" }), ...(tankless.has(id) && { tankless: ["purge", ""] }),
  }));
}
