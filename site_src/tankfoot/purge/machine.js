/** The guided purge as a state machine over a table. Twin of machine.py. */

import { steps } from "./declared.js";

export const FIRST = "choose";
export const LAST = "saved";

/** An event that its step does not know. `code` is a stable word shared with Python. */
export class WrongEvent extends Error {
  code = "wrong-event";
}

/** The state after `event` in `state`; throws WrongEvent where the table has no such event, or no such state. */
export function nextState(state, event) {
  const step = own(steps, state);
  if (step && event === "trouble" && state !== FIRST && state !== LAST) return state;
  const target = event === "skip" ? step?.skip : step && own(step.events, event);
  if (!target) throw new WrongEvent(`${state}: ${event}`);
  return target;
}

/** A member that an object has itself: every object knows a "constructor". */
function own(object, key) {
  return Object.hasOwn(object, key) ? object[key] : undefined;
}

/** The events that still stand once every "undo" has taken back the last other one, if there was one. */
export function standing(events) {
  const kept = [];
  for (const event of events) {
    if (event.event === "undo") kept.pop();
    else kept.push(event);
  }
  return kept;
}

/** The state that the events of a purge lead to from the first step: only those that stand count; throws WrongEvent. */
export function stateAfter(events) {
  return standing(events).reduce((state, { event }) => nextState(state, event), FIRST);
}

/** When the event last happened, in ms since the epoch, null where it did not. */
export function instantOf(events, name) {
  const found = standing(events).findLast(({ event }) => event === name);
  return found ? Date.parse(found.at) : null;
}

/** The run's times in seconds: how long the port was open, and how long past the colour change. */
export function runTimes(events) {
  const [opened, change, closed] = ["opened", "colour-change", "closed"].map((name) => instantOf(events, name));
  if (opened === null || closed === null) return { run: null, overrun: null };
  return { run: (closed - opened) / 1000, overrun: change === null ? 0 : (closed - change) / 1000 };
}

/** Whether an instant lies before the last one that was saved: somebody set the clock back. */
export function isBeforeLast(events, now) {
  const last = events.at(-1);
  return last !== undefined && now < Date.parse(last.at) - 1000;
}
