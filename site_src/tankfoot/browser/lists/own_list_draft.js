/** A list that is being written, kept on the phone until it is saved or dropped: one at a time. */

const KEY = "tankfoot-list-draft";

/** @returns {{of: string, base: object|null, list: object}|null} the draft that `of` names: an entry, a copy or "" */
export function draftOf(of) {
  try {
    const draft = JSON.parse(localStorage?.getItem(KEY) ?? "null");
    return draft?.of === of ? draft : null;
  } catch (error) {
    if (error instanceof DOMException || error instanceof SyntaxError) return null;
    throw error;
  }
}

/** Drops the draft of an entry that was saved, unless another window wrote on after this one's last word. */
export function dropSaved(of, list) {
  if (JSON.stringify(draftOf(of)?.list) === JSON.stringify(list)) keepDraft(null);
}

/** Keeps a draft, or with null drops it; false where the phone refuses. */
export function keepDraft(draft) {
  try {
    if (!localStorage) return false; // a web view that keeps nothing has null there
    localStorage.setItem(KEY, JSON.stringify(draft));
    return true;
  } catch (error) {
    if (error instanceof DOMException) return false;
    throw error;
  }
}
