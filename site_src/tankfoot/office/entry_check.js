/** The verdict on one entry, wherever it comes from: its shape, then what it means to its room. Twin of entry_check.py. */

import { batchEventProblems, readingProblems } from "../batches/meaning.js";
import { purgeProblems } from "../purge/meaning.js";
import { checkEntry } from "../record/validate.js";
import { basisProblems } from "../report/meaning.js";
import { tankProblems } from "../tanks/meaning.js";

const MEANING = {
  purge: purgeProblems, tank: tankProblems, "batch-event": batchEventProblems, "tank-reading": readingProblems,
  "cost-basis": basisProblems,
};

/** @param {any} entry any JSON value @returns {import("../record/validate.js").Problem[]} none of an empty list */
export function entryProblems(entry, where = "") {
  const found = checkEntry(entry, where);
  if (found.length || entry.deleted || !Object.hasOwn(MEANING, entry.kind)) return found;
  const body = where ? `${where}.body` : "body";
  return MEANING[entry.kind](entry.body).map(([place, code, facts]) => (
    { where: place ? `${body}.${place}` : body, code, facts, id: null }
  ));
}
