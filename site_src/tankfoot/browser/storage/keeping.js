/** How safe the record is: what is remembered of it outside of it, so that its loss is seen, and its second copy. */

import { withStore } from "./database.js";
import { compareJournal, fromJournalInSlices, tidyJournal } from "./journal.js";
import { openMemory } from "./memory.js";

const DAY = 86400e3; // ms
const WHOLE_EVERY = 7 * DAY; // the whole journal is compared
const SEEN = "tankfoot-compared"; // in this window: nothing was missing when it was opened

const memory = openMemory("tankfoot-record");
let isNoted = false;

/**
 * What is known: how many `entries` there were, when they were last `exported` (ms), whether the browser has promised
 * to keep them (`persisted`), whether the last write is in the second copy (`copied`); undefined where it is not known.
 *
 * @returns {{entries?: number, exported?: number, persisted?: boolean, copied?: boolean}}
 */
export function keeping() {
  const { entries, exported, persisted, copied } = memory.glance();
  return {
    entries: numberOr(entries), exported: numberOr(exported),
    persisted: booleanOr(persisted), copied: booleanOr(copied),
  };
}

/** Something was saved; the first time here the browser is asked to keep it for good. */
export function noteSaved(isCopied) {
  globalThis.dispatchEvent?.(new Event("tankfoot-saved"));
  if (isCopied !== undefined && memory.glance().copied !== isCopied) memory.save({ copied: isCopied });
  if (isNoted) return;
  isNoted = true;
  askToPersist();
}

export function noteExported() {
  return memory.save({ exported: Date.now() });
}

/** Entries were taken out of the record by its owner: they are not missed. */
export function noteGone(count) {
  const { entries } = keeping();
  return entries === undefined ? Promise.resolve(true) : memory.save({ entries: Math.max(0, entries - count) });
}

/** Once a day at most: the answer of a browser may change, as once the app stands on the home screen. */
async function askToPersist() {
  const { asked, persisted } = memory.glance();
  if (!navigator.storage?.persist || persisted === true || Date.now() - (numberOr(asked) ?? 0) < DAY) return;
  await memory.save({ asked: Date.now(), persisted: await navigator.storage.persist() });
}

/**
 * Whether entries are missing: `missing` are the ids of those that the second copy has, `lost` counts what no copy has.
 *
 * @returns {Promise<{missing: string[], lost: number}>}
 */
export async function lookForLoss() {
  if (sessionStorage.getItem(SEEN)) return { missing: [], lost: 0 };
  const { entries = 0 } = keeping();
  const compared = numberOr(memory.glance().compared) ?? 0;
  const count = await withStore("readonly", (store) => store.count());
  const isWhole = count < entries || Math.abs(Date.now() - compared) > WHOLE_EVERY;
  const { missing } = await compareJournal(isWhole) ?? { missing: [] };
  const lost = Math.max(0, entries - count - missing.length);
  if (missing.length + lost === 0) {
    await memory.save({ entries: count, ...(isWhole ? { compared: Date.now() } : {}) });
    sessionStorage.setItem(SEEN, "yes");
    tidyJournal();
  }
  return { missing, lost };
}

/** What is lost is known, and asked about no more. */
export async function forgetLoss() {
  await memory.save({ entries: await withStore("readonly", (store) => store.count()) });
}

/** The entries of the second copy, in slices. @param {string[]} ids */
export function secondCopyOf(ids) {
  return fromJournalInSlices(ids);
}

function numberOr(found) {
  return Number.isFinite(found) ? found : undefined;
}

function booleanOr(found) {
  return typeof found === "boolean" ? found : undefined;
}
