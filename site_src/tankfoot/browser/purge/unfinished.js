/** Purges that were begun and not finished. */

import { unfinished } from "../storage/record.js";

/** @returns {Promise<object[]>} their entries, the one touched last first */
export async function unfinishedPurges() {
  const open = (await unfinished()).filter(({ kind }) => kind === "purge");
  return open.sort((a, b) => (a.edited < b.edited ? 1 : -1));
}
