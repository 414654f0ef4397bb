/** The times of a run: how long the port was open, and when solids turned to beer, tapped or seen. Twin of times.py. */

import { secondsBetween } from "../record/age.js";
import { lastInstants } from "./machine.js";

/**
 * Seconds that the port was open, and seconds past the colour change; null without such events. What a camera saw
 * counts in place of the tap once the hand took it.
 *
 * @param {any} body of a purge @returns {[number|null, number|null]}
 */
export function runTimes(body) {
  const { opened = null, "colour-change": change = null, closed = null } = lastInstants(body.events);
  if (opened === null || closed === null) return [null, null];
  const [run, seen] = [secondsBetween(opened, closed), seenAfter(body)];
  if (seen !== null && isTaken(body)) return [run, Math.max(run - seen, 0.0)];
  return [run, change === null ? 0.0 : secondsBetween(change, closed)];
}

/** Seconds from opened to the colour change that counts, null where there is none. */
export function changeAfter(body) {
  return isTaken(body) ? seenAfter(body) : tappedAfter(body);
}

/** Seconds from opened to the colour change as it was tapped, null where it was not. */
export function tappedAfter({ events }) {
  const { opened = null, "colour-change": change = null } = lastInstants(events);
  return opened === null || change === null ? null : secondsBetween(opened, change);
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
