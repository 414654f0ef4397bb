/** A list that is being written, kept on the phone until it is saved or dropped: one at a time. */

import { openMemory } from "../storage/memory.js";

const memory = openMemory("tankfoot-list-draft");
const NONE = { of: null, base: null, list: null };

/** @returns {{of: string, base: object|null, list: object}|null} the draft that `of` names: an entry, a copy or "" */
export function draftOf(of) {
  const draft = memory.glance();
  return draft.of === of && hasLines(draft.list) && (!draft.base || hasLines(draft.base)) ? draft : null;
}

/** Drops the draft of an entry that was saved, unless another window wrote on after this one's last word. */
export async function dropSaved(of, list) {
  if (JSON.stringify(draftOf(of)?.list) === JSON.stringify(list)) await dropDraft();
}

/** @returns {Promise<boolean>} true once it is on the disk */
export function keepDraft(draft) {
  return memory.save(draft);
}

export function dropDraft() {
  return memory.save(NONE);
}

/** Whether it has what the page fills its fields from. */
function hasLines(list) {
  const isObject = (found) => typeof found === "object" && found !== null;
  return isObject(list) && Array.isArray(list.parts)
    && list.parts.every((part) => isObject(part) && Array.isArray(part.lines) && part.lines.every(isObject));
}
