/** The times of a run: how long the port was open, and when solids turned to beer, tapped or seen. Twin of times.py. */

import { secondsBetween } from "../record/age.js";
import { lastInstants } from "./machine.js";

/**
 * @typedef {number|null} Seconds
 * @typedef {{opened: string|null, run: Seconds, past: Seconds, change: Seconds, tapped: Seconds, seen: Seconds}} Times
 */

/** All times of a run of a purge's body, from one look at its events. @returns {Times} see times.py */
export function timesOf(body) {
  const { opened = null, "colour-change": change = null, closed = null } = lastInstants(body.events);
  const [seen, taken] = [seenAfter(body), isTaken(body)];
  const [run, tapped] = [between(opened, closed), between(opened, change)];
  const past = taken && seen !== null && run !== null ? Math.max(run - seen, 0.0) : between(change, closed) ?? 0.0;
  return { opened, run, past: run === null ? null : past, change: taken ? seen : tapped, tapped, seen };
}

/** @param {string|null} start @param {string|null} end @returns {Seconds} */
function between(start, end) {
  return start === null || end === null ? null : secondsBetween(start, end);
}

/**
 * Seconds that the port was open, and seconds past the colour change; null without such events.
 *
 * @param {any} body of a purge @returns {[Seconds, Seconds]}
 */
export function runTimes(body) {
  const { run, past } = timesOf(body);
  return [run, past];
}

/** Seconds from opened to the colour change that counts, null where there is none. */
export function changeAfter(body) {
  return timesOf(body).change;
}

/** Seconds from opened to the colour change as it was tapped, null where it was not. */
export function tappedAfter(body) {
  return timesOf(body).tapped;
}

/**
 * Seconds from opened to the instant at which a camera saw half of what ran be beer, null where it did not.
 *
 * @param {any} body of a purge @returns {number|null}
 */
export function seenAfter({ watched }) {
  return watched ? watched.beer_at : null;
}

/** Whether the hand took what was seen for its own colour change. */
export function isTaken(body) {
  return seenAfter(body) !== null && body.watched.taken;
}

/**
 * An instant after opened, s, of a run of so many, null where it lies in none: a clock was set back.
 *
 * @param {number|null} after @param {number|null} run @returns {number|null}
 */
export function inRun(after, run) {
  return after !== null && run !== null && after >= 0.0 && after <= run ? after : null;
}
