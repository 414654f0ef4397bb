/** When a tank is due, from its last finished purge, and how that is said. */

import { LAST } from "../../purge/machine.js";
import { byDue, endOf, inDaysOrHours } from "../../tanks/due.js";
import { locale, words } from "../../wording/words.js";
import { getEach, idsByDay } from "../storage/record.js";

const AT_ONCE = 4; // entries read at a time on the way back to a finished purge

/** The tanks that have a rhythm, each with its `wait` in s, negative once it is due; the longest overdue first. */
export async function withWaits(tanks) {
  return byDue(await Promise.all(tanks.map(sinceLast)), Date.now());
}

async function sinceLast(entry) {
  const last = entry.body.purge_every ? await lastFinished(entry.id) : null;
  return { entry, every: entry.body.purge_every, since: last ? endOf(last) : entry.created };
}

/** The newest finished purge of a tank: of thousands, only the newest few are read. */
async function lastFinished(tank) {
  const ids = await idsByDay("purge", tank);
  while (ids.length) {
    const entries = await getEach(ids.splice(0, AT_ONCE));
    const found = entries.find((entry) => entry && !entry.deleted && entry.body.state === LAST);
    if (found) return found;
  }
  return null;
}

/** "due 3 days ago", "due in 26 hours", "due now". @param {number} wait s */
export function whenDue(wait) {
  const found = inDaysOrHours(wait);
  if (!found) return words("today.due_now");
  const [count, unit] = found;
  const long = new Intl.NumberFormat(locale(), { style: "unit", unit, unitDisplay: "long" }).format(count);
  return words(wait > 0 ? "today.due_in" : "today.due_ago", { wait: long });
}
