/**
 * Purges whose events do not lead from one to the next, as a file made elsewhere may have them: each goes on from the
 * step that it is on.
 */

import { nextState, standing, stateAfter, tables, WrongEvent } from "../../purge/machine.js";
import { paceOf, screen, SHORT } from "../../purge/pace.js";

/** @returns {boolean} whether the events of a purge's body can be walked by its table */
export function replays({ events, table }) {
  try {
    stateAfter(events, table);
    return true;
  } catch (error) {
    if (error instanceof WrongEvent) return false;
    throw error;
  }
}

/** The state after one more event: a fact is saved whatever stands before it. */
export function stateWith(body, event) {
  const { events, table, state } = body;
  if (replays(body)) return stateAfter([...events, event], table);
  return nextState(state, event.event, events.map((each) => each.event), table);
}

/** The events that the last tap told: at the short pace all that stand with its instant. */
export function toldAtOnce(events) {
  const stand = standing(events);
  if (paceOf(events) !== SHORT || !stand.length) return events.slice(-1);
  const { at } = stand.at(-1);
  return stand.slice(stand.findLastIndex((each) => each.at !== at || each.event === "aged") + 1);
}

/** What the step, or at the short pace the whole screen, that a body is at takes: {saves}. */
export function savedOnScreen({ events, state, table }) {
  const names = standing(events).map(({ event }) => event);
  const steps = paceOf(events) === SHORT ? screen(state, names, table).steps : [state];
  return { saves: steps.flatMap((each) => tables[table][each].saves ?? []) };
}
