/** Whether what is stored is an entry at all: the phone may have lost a part of it, or a file made elsewhere brought it. */

import { entryProblems } from "../../office/entry_check.js";
import { checkEntry } from "../../record/validate.js";

/** Of what the record may hold: no screen has to look twice at it. */
export function isSound(entry) {
  return entry !== undefined && entryProblems(entry).length === 0;
}

/** Right in its shape, whether or not it is something that this version can go on with. */
export function isShaped(entry) {
  return entry !== undefined && checkEntry(entry).length === 0;
}

/** What was deleted may have left nothing behind: then it is no more than a tombstone. @param {object} entry a sound one */
export function isWhole(entry) {
  return !entry.deleted || isSound({ ...entry, deleted: false });
}
