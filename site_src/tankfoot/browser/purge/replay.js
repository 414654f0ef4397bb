/**
 * Purges whose events do not lead from one to the next, as a file made elsewhere may have them: each goes on from the
 * step that it is on.
 */

import { nextState, stateAfter, WrongEvent } from "../../purge/machine.js";

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
