/**
 * The record: entries in IndexedDB, one store. A write is over when its transaction is complete and on the disk.
 *
 * @typedef {object} Entry
 * @property {string} id a UUID
 * @property {string} kind "list-run", "tank", "purge" and so on
 * @property {string} created the instant it was made, ISO 8601 in UTC
 * @property {string} edited the instant of its last change
 * @property {boolean} deleted a tombstone, kept so that a merge does not bring the entry back
 * @property {boolean} demo from the invented brewery
 * @property {object} body what the kind says
 * @property {{edited: string, body: object}[]} history the bodies that corrections replaced, oldest first
 */

import { mergeEntries } from "../../office/merge.js";
import { LATEST } from "../../usual/purges.js";
import { latestIds, wayOf } from "./backwards.js";
import { RecordTrouble, withStore } from "./database.js";
import { addToJournal } from "./journal.js";
import { noteGone, noteSaved } from "./keeping.js";
import { whenUnderWay } from "./marks.js";
import { idsOfOpenHolds, idsUnderWay } from "./marked.js";
import { newId } from "./new_id.js";
import { newQueue } from "./queue.js";
import { valueOf, whenRead } from "./requests.js";
import { isSound, isWhole } from "./sound.js";
import { allStores, storesOf, takeOut, write } from "./writing.js";

const madeFrom = new WeakMap(); // an edited entry -> the instant of the edit it was made from

/**
 * Writes entries in one transaction; resolves once they are on the disk. An edited one is written only over what it
 * was made from, so that a second window that shows an older state does not undo what the first one saved.
 *
 * @returns {Promise<true>}
 */
export async function put(...entries) {
  await withStore("readwrite", (store, refuse) => {
    for (const entry of entries) putOver(store, entry, refuse);
  }, storesOf(entries));
  noteSaved(await addToJournal({ put: entries }));
  return true;
}

function putOver(store, entry, refuse) {
  if (!madeFrom.has(entry)) {
    write(store, entry);
    return;
  }
  const stored = store.get(entry.id);
  stored.onsuccess = () => {
    const right = [undefined, madeFrom.get(entry), entry.edited];
    if (right.includes(stored.result?.edited)) write(store, entry);
    else refuse(new RecordTrouble("changed-elsewhere"));
  };
}

/**
 * Writes a purge that begins now, and what goes with it. A tank has one purge under way: where another window has begun
 * one, nothing is written, and the trouble has that purge as `found`.
 *
 * @returns {Promise<true>}
 */
export async function begin(purge, ...others) {
  const isUnderWay = (entry) => (
    isSound(entry) && entry.kind === "purge" && !entry.deleted && entry.body.tank === purge.body.tank
  );
  await withStore("readwrite", (store, refuse) => {
    const look = ([id, ...ids]) => {
      if (id === undefined) for (const entry of [purge, ...others]) putOver(store, entry, refuse);
      else whenRead(store.get(id), (found) => {
        if (isUnderWay(found)) refuse(new RecordTrouble("begun-elsewhere", { found }));
        else look(ids);
      });
    };
    whenUnderWay(store, look);
  }, storesOf([purge, ...others]));
  noteSaved(await addToJournal({ put: [purge, ...others] }));
  return true;
}

/**
 * Takes in another phone's entries: each is compared with what is stored in the transaction that writes it, so that
 * what another window saved meanwhile is not undone.
 *
 * @returns {Promise<Entry[]>} those that were written
 */
export async function takeIn(theirs) {
  const changed = await withStore("readwrite", (store) => {
    const written = [];
    for (const entry of theirs) whenRead(store.get(entry.id), (mine) => {
      const { changed } = mergeEntries(isSound(mine) ? [mine] : [], [entry]);
      for (const each of changed) write(store, each);
      written.push(...changed);
    });
    return { result: written };
  }, storesOf(theirs));
  noteSaved(await addToJournal({ put: changed }));
  return changed;
}

/** Does one change after the other, so that each is made from what the one before it left. */
export const inTurn = newQueue();

/**
 * @param {string|null} kind only an entry of this kind: an address or another entry may name one of any
 * @returns {Promise<Entry|null>} null where there is none, or none that can be read
 */
export async function get(id, kind = null) {
  return (await sound([id])).find((entry) => [null, entry.kind].includes(kind) && isWhole(entry)) ?? null;
}

/** @returns {Promise<Entry[]>} all sound entries of one kind that are not deleted; with their tombstones where asked */
export async function ofKind(kind, { withDeleted = false } = {}) {
  const stored = await getStored(await idsOfKind(kind));
  return stored.filter((entry) => (withDeleted || !entry?.deleted) && isSound(entry) && isWhole(entry));
}

/** @returns {Promise<string[]>} */
export function idsOfKind(kind) {
  return withStore("readonly", (store) => store.index("kind").getAllKeys(kind));
}

/** @returns {Promise<Entry[]>} a tank's latest purges, those of them that are not deleted */
export async function latestPurges(tank) {
  return (await sound(await latestIds(wayOf("purge", tank), LATEST))).filter(({ deleted }) => !deleted);
}

/** @returns {Promise<(Entry|undefined)[]>} the entries of these ids, in their order; nothing for a damaged one */
export async function getEach(ids) {
  return (await getStored(ids)).map((entry) => (isSound(entry) ? entry : undefined));
}

/**
 * As they are stored, damaged or not. One that the phone's storage has lost a part of is undefined, and does not keep
 * the others from being read.
 *
 * @returns {Promise<(object|undefined)[]>}
 */
export function getStored(ids) {
  return withStore("readonly", (store) => Promise.all(ids.map((id) => valueOf(store.get(id)))));
}

async function sound(ids) {
  return (await getEach(ids)).filter(Boolean);
}

/** @returns {Promise<Entry[]>} purges that were begun and not finished (`open: 1`), the one touched last first */
export async function unfinishedPurges(isWanted = isSound) {
  const found = await getStored(await idsUnderWay());
  const open = found.filter((entry) => !entry?.deleted && isWanted(entry) && entry.kind === "purge");
  return open.sort((a, b) => (a.edited < b.edited ? 1 : -1));
}

/** @returns {Promise<Entry[]>} the holds that nobody has lifted, of all tanks where none is named */
export async function unliftedHolds(tank = null) {
  return (await sound(await idsOfOpenHolds(tank))).filter(({ kind, deleted }) => kind === "tank-hold" && !deleted);
}

/** @returns {Promise<boolean>} whether anything is stored under this id, damaged or not */
export async function has(id) {
  return await withStore("readonly", (store) => store.getKey(id)) !== undefined;
}

/** @returns {Promise<string[]>} the ids of everything, tombstones too */
export function allIds() {
  return withStore("readonly", (store) => store.getAllKeys());
}

/** @returns {Promise<Entry[]>} everything that is sound, tombstones too */
export async function everything() {
  return sound(await allIds());
}

/**
 * Takes entries out for good, leaving no tombstone, in one transaction: for what was never a real record.
 *
 * @returns {Promise<true>}
 */
export async function discard(...ids) {
  await withStore("readwrite", (store) => { takeOut(store, ids); }, allStores);
  await Promise.all([addToJournal({ gone: ids }), noteGone(ids.length)]);
  return true;
}

/** A new entry of a kind, not yet written. */
export function newEntry(kind, body) {
  const now = new Date().toISOString();
  return { id: newId(), kind, created: now, edited: now, deleted: false, demo: false, body, history: [] };
}

/** The same entry with another body, edited now, not yet written; `changes` to its head, such as `deleted`. */
export function edited(entry, body, changes = {}) {
  const changed = { ...entry, ...changes, edited: nowAfter(entry.edited), body };
  madeFrom.set(changed, entry.edited);
  return changed;
}

/** Now; just after `instant` where the clock was set back, since the newest edit wins a merge. */
function nowAfter(instant) {
  return new Date(Math.max(Date.now(), Date.parse(instant) + 1)).toISOString();
}

/** A correction: like `edited`, and the body that it replaces is kept with the instant it was last right. */
export function corrected(entry, body) {
  const history = [...entry.history, { edited: entry.edited, body: entry.body }];
  return edited(entry, body, { history });
}
