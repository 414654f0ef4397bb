/** What is due in the tanks of this phone now, in the order in which a hand walks. */

import { dueItems, inWalkingOrder } from "../../batches/due.js";
import { dueSentence, ruleTitle } from "../../wording/sentences.js";
import { words } from "../../wording/words.js";
import { currentRules, staysOf } from "../storage/stays.js";
import { walkingOrder } from "../storage/walking_order.js";
import { written } from "./dates.js";
import { whenDue } from "./due_text.js";

/** @param {object[]} tanks entries @returns {Promise<{items: any[], rules: any[], stays: Map<string, any>}>} */
export async function dueNow(tanks) {
  const [stays, rules, inOrder] = await Promise.all([staysOf(tanks), currentRules(), walkingOrder(tanks)]);
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

/** What is asked, and until or from when: "Hops: due until Fri, Mar 6, 3:00 AM". */
export function dueLine(item, rules) {
  const { rule, state, from, until } = item;
  if (rule === "every") return whenDue(waitFor(item));
  const what = ruleTitle(rule, rules);
  return words(`today.states.${state}`, { what, from: written(from, "soon"), until: written(until, "soon") });
}

/** Why, in one sentence. */
export function dueWhy(item, rules) {
  return dueSentence(item, rules, written(item.why.at, "soon"));
}
