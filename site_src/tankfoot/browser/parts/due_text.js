/** When a tank is due, from its last finished purge, and how that is said. */

import { byDue, endOf, inDaysOrHours } from "../../tanks/due.js";
import { locale, words } from "../../wording/words.js";
import { lastFinished } from "../storage/rounds.js";

/** The tanks that have a rhythm, each with its `wait` in s, negative once it is due; the longest overdue first. */
export async function withWaits(tanks) {
  return byDue(await Promise.all(tanks.map(sinceLast)), Date.now());
}

async function sinceLast(entry) {
  const last = entry.body.purge_every ? await lastFinished(entry.id) : null;
  return { entry, every: entry.body.purge_every, since: last ? endOf(last) : entry.created };
}

/** "due 3 days ago", "due in 26 hours", "due now". @param {number} wait s */
export function whenDue(wait) {
  const found = inDaysOrHours(wait);
  if (!found) return words("today.due_now");
  const [count, unit] = found;
  const long = new Intl.NumberFormat(locale(), { style: "unit", unit, unitDisplay: "long" }).format(count);
  return words(wait > 0 ? "today.due_in" : "today.due_ago", { wait: long });
}
