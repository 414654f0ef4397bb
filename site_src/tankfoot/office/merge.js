/** Two records become one: by id, the newest edit wins. Twin of merge.py. */

import { canonical } from "../record/canonical.js";
import { why } from "./declared.js";

/**
 * @typedef {{id: string|null, action: "new"|"newer"|"older"|"same"|"refused", why: string}} Step
 *
 * @param {object[]} mine
 * @param {object[]} theirs entries that are right
 * @param {import("../record/validate.js").Problem[]} problems of their other entries
 * @returns {{entries: object[], changed: object[], plan: Step[]}} the whole record once merged, those of it that are
 *   to be written, and what is done with each of theirs
 */
export function mergeEntries(mine, theirs, problems = []) {
  const record = new Map(mine.map((entry) => [entry.id, entry]));
  const changed = new Map();
  const plan = theirs.map((entry) => {
    const [action, reason] = actionFor(record.get(entry.id), entry);
    if (action === "new" || action === "newer") {
      record.set(entry.id, entry);
      changed.set(entry.id, entry);
    }
    return { id: entry.id, action, why: why[reason] };
  });
  const refused = problems.map(({ id, where, says }) => ({ id, action: "refused", why: `${where} ${says}`.trim() }));
  return { entries: byId(record), changed: byId(changed), plan: [...plan, ...refused] };
}

function actionFor(mine, theirs) {
  if (!mine) return ["new", "new"];
  if (mine.edited !== theirs.edited) return mine.edited < theirs.edited ? ["newer", "newer"] : ["older", "older"];
  const [myText, theirText] = [canonical(mine), canonical(theirs)];
  if (myText === theirText) return ["same", "same"];
  return myText < theirText ? ["newer", "tie-theirs"] : ["older", "tie-mine"];
}

function byId(entries) {
  return [...entries.keys()].sort().map((id) => entries.get(id));
}
