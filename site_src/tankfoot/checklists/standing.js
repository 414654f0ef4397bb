/** Where a run of a checklist stands by its events. Twin of standing.py. */

import { whyOld } from "../record/age.js";

/** The last event of each line that is done or skipped, in the order in which they were; an unticked line has none. */
export function standingLines(events) {
  const stands = new Map();
  for (const event of events) {
    if (event.done || event.reason) stands.set(event.line, event);
    else stands.delete(event.line);
  }
  return [...stands.values()];
}

/** Those of a list's lines (ids) that are neither done nor skipped, in their order. */
export function linesLeft(lines, events) {
  const settled = new Set(standingLines(events).map(({ line }) => line));
  return lines.filter((line) => !settled.has(line));
}

/** Those of the people a list asks for ("initials", "second") who have not signed; two who sign alike are one person. */
export function peopleWanted(asked, { initials, second }) {
  const wanted = { initials: !initials, second: !second || second === initials };
  return asked.filter((name) => wanted[name]);
}

/** Whether nothing is missing in a run of a list with these lines that asks for these people. */
export function isFinished(lines, asked, body) {
  return linesLeft(lines, body.events).length === 0 && peopleWanted(asked, body).length === 0;
}

/**
 * Why the ticks of a run's body count no more at the instant now, null while they do.
 *
 * @param {any} run its body
 * @param {string} now an instant
 * @param {string|null} hand the initials of who is there now
 * @param {string|null} card the instant at which an emergency card was last opened
 */
export function runGrownOld({ events, initials }, now, hand = null, card = null) {
  if (!events.length) return null;
  const last = events.at(-1).at;
  return whyOld(last, now, card !== null && card > last, hand, initials || hand);
}

/** The events at an instant that take back the ticks of gates (ids of lines) that stand in events. */
export function ticksTakenBack(gates, events, at, why) {
  const ticked = standingLines(events).filter(({ line, done }) => done && gates.includes(line));
  return ticked.map(({ line }) => ({ line, at, done: false, aged: why }));
}

/** Why lines wait to be ticked once more, as the last of them says; null where none does. */
export function whyAskedAgain(events) {
  const last = new Map(events.map((event) => [event.line, event]));
  return events.findLast((event) => last.get(event.line) === event && event.aged)?.aged ?? null;
}
