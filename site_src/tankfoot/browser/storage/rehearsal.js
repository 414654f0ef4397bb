/** The rehearsal under way on this phone: beside the record, so that no list, file or figure of the record has it. */

import { withStore } from "./database.js";

const KEY = "tankfoot-rehearsal";

/** @returns {Promise<object|null>} null where none is under way */
export async function keptRehearsal() {
  return await withStore("readonly", (store) => store.get(KEY), "memory") ?? null;
}

/** @returns {Promise<true>} once it is on the disk */
export async function keepRehearsal(rehearsal) {
  await withStore("readwrite", (store) => store.put(rehearsal, KEY), "memory");
  return true;
}
