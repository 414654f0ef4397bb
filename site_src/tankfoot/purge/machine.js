/** The guided purge as a state machine over a table: which step follows which event. Twin of machine.py. */

import { whyOld } from "../record/age.js";
import { begins, rows } from "./declared.js";

export const FIRST = "choose";
export const LAST = "saved";
export const LATEST = "2";
export const GAS_FIRST = "2-gas-first";
export const TROUBLE = "trouble";
export const SKIP = "skip";
const ANYWHERE = [TROUBLE, "hand"];

/** @typedef {{at: string, state: string, event: string, data?: object}} Event */

/** An event that its step does not know. `code` is a stable word shared with Python. */
export class WrongEvent extends Error {
  code = "wrong-event";
}

/**
 * The steps of every table by their state.
 *
 * @typedef {import("./declared.js").Row & {skip: import("./declared.js").Target|null, again: string|null, hold: string|null}} Step
 * @type {Record<string, Record<string, Step>>}
 */
export const tables = madeOf(rows);

function madeOf(declared) {
  /** @type {Record<string, Record<string, Step>>} */
  const made = {};
  for (const [name, { steps, changes }] of Object.entries(declared)) {
    made[name] = stepsOf(steps, {});
    for (const [other, ways] of Object.entries(changes)) made[other] = stepsOf(steps, ways);
  }
  return made;
}

function stepsOf(steps, changes) {
  return Object.fromEntries(steps.map((row) => [row.state, {
    ...row,
    events: Object.fromEntries(Object.entries(row.events).map(([event, target]) => (
      [event, changes[`${row.state}.${event}`] ?? target]
    ))),
    skip: changes[`${row.state}.skip`] ?? row.skip ?? null,
    again: row.again ?? null,
    hold: row.hold ?? null,
  }]));
}

/** @param {string[]} before the names of the events that stand before it; throws WrongEvent where it is unknown there */
export function nextState(state, event, before = [], table = LATEST) {
  const step = Object.hasOwn(tables[table], state) ? tables[table][state] : null;
  if (step && ANYWHERE.includes(event) && state !== FIRST && state !== LAST) return state;
  let target = step && targetOf(step, event);
  if (target !== null && typeof target === "object") {
    const ways = target;
    const keys = [...(before.includes("closed") ? ["ran"] : []), kindOf(before), "else"];
    target = keys.filter((key) => Object.hasOwn(ways, key)).map((key) => ways[key])[0] ?? null;
  }
  if (target === null) throw new WrongEvent(`${state}: ${event}`);
  return target;
}

function targetOf(step, event) {
  if (event === "aged") return step.again;
  if (event === "skip") return step.skip;
  return Object.hasOwn(step.events, event) ? step.events[event] : null;
}

/** @param {string[]} names of events @returns {string} how the tank stood when their purge began */
export function kindOf(names) {
  const began = names.find((name) => Object.hasOwn(begins, name));
  return began === undefined ? "closed" : begins[began];
}

/** The events that still stand once every "undo" has taken back the last other one; an "aged" is never taken back. */
export function standing(events) {
  const kept = [];
  for (const event of events) {
    if (event.event !== "undo") kept.push(event);
    else if (kept.length && kept.at(-1).event !== "aged") kept.pop();
  }
  return kept;
}

/** The state that a list of events leads to from the first step. */
export function stateAfter(events, table = LATEST) {
  let state = FIRST;
  const names = [];
  for (const { event } of standing(events)) {
    state = nextState(state, event, names, table);
    names.push(event);
  }
  return state;
}

/** Whether the check at the step that events lead to has grown old. @param {string} now an instant */
export function grownOld(events, now, hand = null, table = LATEST) {
  if (!standing(events).length || tables[table][stateAfter(events, table)].again === null) return false;
  const last = events.findLast(({ event }) => event !== "undo").event;
  return whyOld(events.at(-1).at, now, ANYWHERE.includes(last), hand, handOf(events)) !== null;
}

/** The initials of the hand at the tank, null where no event names one. */
export function handOf(events) {
  return events.findLast(({ data }) => data?.by)?.data.by ?? null;
}

/** Why the tank is out of use by what stands in events, each reason once; none that was cleared since. */
export function holdsOf(events, table = LATEST) {
  let state = FIRST;
  let reasons = [];
  const names = [];
  for (const { event } of standing(events)) {
    state = nextState(state, event, names, table);
    names.push(event);
    const { hold } = tables[table][state];
    if (event === "cleared") reasons = [];
    else if (hold && !reasons.includes(hold)) reasons.push(hold);
  }
  return reasons;
}

/** When the event last happened, in ms since the epoch, null where it did not. */
export function instantOf(events, name) {
  const found = standing(events).findLast(({ event }) => event === name);
  return found ? Date.parse(found.at) : null;
}

/** When each event that stands last happened, as it was written. @returns {Record<string, string>} */
export function lastInstants(events) {
  return Object.fromEntries(standing(events).map(({ event, at }) => [event, at]));
}

/** Whether an instant lies before the last one that was saved: somebody set the clock back. */
export function isBeforeLast(events, now) {
  const last = events.at(-1);
  return last !== undefined && now < Date.parse(last.at) - 1000;
}
