/** Two records become one: by id, the newest edit wins. Twin of merge.py. */

import { canonical } from "../record/canonical.js";

/**
 * @typedef {object} Step what is done with one of their entries
 * @property {string|null} id
 * @property {"new"|"newer"|"older"|"same"|"refused"} action
 * @property {boolean} tie both were edited at the same instant
 * @property {import("../record/validate.js").Problem|null} problem why the entry is refused
 *
 * @typedef {import("../record/validate.js").Entry} Entry
 *
 * @param {Entry[]} mine
 * @param {Entry[]} theirs entries that are right
 * @param {import("../record/validate.js").Problem[]} problems of their other entries
 * @returns {{entries: Entry[], changed: Entry[], plan: Step[]}} the whole record once merged, those of it that are
 *   to be written, and what is done with each of theirs
 */
export function mergeEntries(mine, theirs, problems = []) {
  const record = new Map(mine.map((entry) => [entry.id, entry]));
  const changed = new Map();
  const plan = theirs.map((entry) => {
    const [action, tie] = actionFor(record.get(entry.id), entry);
    if (action === "new" || action === "newer") {
      record.set(entry.id, entry);
      changed.set(entry.id, entry);
    }
    return { id: entry.id, action, tie, problem: null };
  });
  /** @type {Step[]} */
  const refused = problems.map((problem) => ({ id: problem.id, action: "refused", tie: false, problem }));
  return { entries: byId(record), changed: byId(changed), plan: [...plan, ...refused] };
}

/** @returns {[Step["action"], boolean]} and whether it is a tie */
function actionFor(mine, theirs) {
  if (!mine) return ["new", false];
  if (mine.edited !== theirs.edited) return [mine.edited < theirs.edited ? "newer" : "older", false];
  const [myText, theirText] = [canonical(mine), canonical(theirs)];
  if (myText === theirText) return ["same", false];
  return [myText < theirText ? "newer" : "older", true];
}

function byId(entries) {
  return [...entries.keys()].sort().map((id) => entries.get(id));
}
