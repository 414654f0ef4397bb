/** What is due in a tank, and why. Twin of due.py. */

import { daysAfter, startOfDay } from "./wall_clock.js";

const SHOWN_AFTER = 7.0; // days that what was done of a rule that returns is still shown
const ACTS = { purge: "purges", reading: "readings", look: "purges" }; // what answers what a rule asks
const DAY = 86400.0;
const OWN = { name: "every", asks: "purge", solids: null, within: 1.0 }; // a tank's own interval between purges
const STATES = ["overdue", "due", "later", "done"];

/**
 * What is asked in one tank, as items in the order of the rules.
 *
 * @param {any} stay what is in the tank and what was done to it: see due.py @param {any[]} rules
 * @param {string} now an instant @param {string} zone
 * @returns {any[]} each with `key`, `rule`, `asks`, `solids`, `from`, `until`, `state`, `done_by` and `why`
 */
export function dueItems(stay, rules, now, zone) {
  const asked = rules.filter((rule) => !rule.off && !(stay.held && rule.asks !== "reading"));
  const items = asked.flatMap((rule) => (rule.every === null ? once(stay, rule, zone) : returning(stay, rule, now, zone)));
  if (stay.every !== null && !stay.held) items.push(ofTank(stay));
  return items.map((item) => withState(putOff(item, ruleOf(item, [...rules, OWN]), stay.postponed, zone), now));
}

/** The rule that an item is asked by; null where it is no more. */
export function ruleOf(item, rules) {
  return rules.find(({ name }) => name === item.rule) ?? null;
}

/** What is overdue first, then what is due, then what comes later by its time; within those as the tanks stand. */
export function inWalkingOrder(items, tanks) {
  const places = new Map(tanks.map((tank, place) => [tank, place]));
  const key = ({ state, tank, from, key: own }) => [
    STATES.indexOf(state), state === "later" ? from : "", places.get(tank) ?? tanks.length, from, own,
  ];
  return [...items].sort((a, b) => compared(key(a), key(b)));
}

function compared(a, b) {
  const place = a.findIndex((each, at) => each !== b[at]);
  if (place < 0) return 0;
  return a[place] < b[place] ? -1 : 1;
}

/** For each event of its kind one item, and after that as many more as the rule asks again. */
function once(stay, rule, zone) {
  return stay.events.filter(({ event }) => event === rule.after).flatMap((event) => ofEvent(stay, rule, event, zone));
}

function ofEvent(stay, rule, event, zone) {
  const days = rule.wait + (rule.contact ? event.days ?? 0.0 : 0.0);
  let begin = daysAfter(event.at, days, zone);
  let until = daysAfter(begin, rule.within, zone);
  const day = startOfDay(begin, 0.0, zone);
  let counts = event.at > day ? event.at : day; // done on the same day is done
  let why = { code: rule.after, at: event.at, days };
  const items = [];
  for (let time = 0; time <= rule.again; time += 1) {
    const from = counts;
    const done = stay[ACTS[rule.asks]].find(({ at }) => at >= from) ?? null;
    const id = `${rule.name}.${event.id}` + (time ? `.${time}` : "");
    items.push(itemOf(stay, rule, id, { from: begin, until }, done, why));
    if (done === null) break;
    begin = startOfDay(done.at, 1.0, zone);
    until = startOfDay(done.at, 2.0, zone);
    counts = begin;
    why = { code: "again", at: done.at, days: 1.0 };
  }
  return items;
}

/** What was done in the last days, each for its turn, and the next turn. */
function returning(stay, rule, now, zone) {
  let last = stay.events.findLast(({ event }) => event === rule.after);
  if (!last) return [];
  const shownSince = daysAfter(now, -SHOWN_AFTER, zone);
  const acts = stay[ACTS[rule.asks]].filter(({ at }) => at >= last.at);
  let code = rule.after;
  const items = [];
  for (const act of [...acts, null]) {
    if (act === null || act.at >= shownSince) {
      const from = startOfDay(last.at, rule.every, zone);
      const until = startOfDay(last.at, rule.every + rule.within, zone);
      const why = { code, at: last.at, days: rule.every };
      items.push(itemOf(stay, rule, `${rule.name}.${last.id}`, { from, until }, act, why));
    }
    last = act;
    code = "returns";
  }
  return items;
}

function ofTank(stay) {
  const { last, every } = stay;
  const from = daysAfter(last.at, every / DAY, "UTC");
  const why = { code: "every", at: last.at, days: every / DAY };
  return itemOf(stay, OWN, `every.${last.id}`, { from, until: daysAfter(from, OWN.within, "UTC") }, null, why);
}

function itemOf({ tank, batch }, { name, asks, solids }, key, { from, until }, done, why) {
  return { key, tank, batch, rule: name, asks, solids, from, until, done_by: done?.id ?? null, why };
}

/** An item that was put off begins when that ends, and has its whole time from then. */
function putOff(item, rule, postponed, zone) {
  const from = Object.hasOwn(postponed, item.key) ? postponed[item.key] : null;
  if (from === null || from <= item.from) return item;
  const until = daysAfter(from, rule.within, zone);
  return { ...item, from, until: until > item.until ? until : item.until };
}

function withState(item, now) {
  const isLate = now >= item.until && item.asks !== "look";
  const state = item.done_by !== null ? "done" : now < item.from ? "later" : isLate ? "overdue" : "due";
  return { ...item, state };
}
