/** What is due in the tanks of this phone now, in the order in which a hand walks. */

import { dueItems, inWalkingOrder, ruleOf } from "../../batches/due.js";
import { startOfDay } from "../../batches/wall_clock.js";
import { dueSentence, dueTitle } from "../../wording/sentences.js";
import { words } from "../../wording/words.js";
import { currentRules, staysOf } from "../storage/stays.js";
import { walkingOrder } from "../storage/walking.js";
import { byName } from "./by_name.js";
import { written } from "./dates.js";
import { whenDue } from "./due_text.js";

/** @param {object[]} tanks entries @returns {Promise<{items: any[], rules: any[], stays: Map<string, any>}>} */
export async function dueNow(tanks) {
  const [stays, rules, inOrder] = await Promise.all([staysOf(tanks), currentRules(), walkingOrder(byName(tanks))]);
  const items = [...stays.values()].flatMap((stay) => dueItems(stay, rules, nowInstant(), zone()));
  return { items: inWalkingOrder(items, inOrder.map(({ id }) => id)), rules, stays };
}

/** The next purge that a tank asks for, the earliest first; null where it asks for none. @param {object} tank an entry */
export async function nextPurge(tank) {
  const { items } = await dueNow([tank]);
  const asked = items.filter(({ asks, state }) => asks === "purge" && state !== "done");
  return asked.sort((a, b) => (a.from < b.from ? -1 : 1))[0] ?? null;
}

/** Seconds until an item is due, negative once it is. */
export function waitFor({ from }) {
  return (Date.parse(from) - Date.now()) / 1000;
}

export function nowInstant() {
  return new Date(Date.now()).toISOString();
}

/** The phone's own. */
export function zone() {
  return Intl.DateTimeFormat().resolvedOptions().timeZone ?? "UTC";
}

export function isDue({ state }) {
  return state === "due" || state === "overdue";
}

/** What is asked, and until or from when: "Purge the hops: due until Fri, Mar 6, 3:00 AM". */
export function dueLine(item, rules) {
  const { rule, state, from, until } = item;
  if (rule === "every") return whenDue(waitFor(item));
  const last = state === "due" && isMidnight(until) ? Date.parse(until) - 1 : until; // until the end of the day before
  return words(`today.states.${state}`, { what: dueTitle(item, ruleOf(item, rules)), from: when(from), until: when(last) });
}

/** Why, in one sentence. */
export function dueWhy(item) {
  return dueSentence(item, when(item.why.at));
}

/** A day and its time; what begins or ends with a day has none. */
function when(instant) {
  const at = new Date(instant);
  return written(at, isMidnight(at.toISOString()) || at.getMilliseconds() === 999 ? "soonDay" : "soon");
}

function isMidnight(instant) {
  return startOfDay(instant, 0, zone()) === instant;
}
