/** What each tank of a round waits for. Twin of waits.py. */

import { instantOf, LAST, LATEST, tables } from "../purge/machine.js";

export const CONTACT_LIMIT = 900.0;
const BEFORE_OPEN = "run"; // beer can run there, if the valve moves before it is told
const BEFORE_WET = ["choose", "ready", "cap-valve", "cap-clamp", "cap-wrong", "cap-off"];

/**
 * @param {any} purge the body of the tank's purge in this round, null where none has begun
 * @param {string} now an instant
 * @param {number} contact seconds that the sanitizer has to stay
 * @param {number} limit seconds after that until it is put on again
 * @returns {{what: string, left: number|null}} of the contact time the seconds left
 */
export function waitsFor(purge, now, contact, limit) {
  if (purge !== null && purge.state === "contact" && Object.hasOwn(purge, "open")) {
    return inContact(purge.events, now, contact, limit);
  }
  return { what: whatOf(purge), left: null };
}

function whatOf(purge) {
  if (purge === null) return "begin";
  if (purge.state === LAST) return "done";
  if (!Object.hasOwn(purge, "open")) return "left";
  const step = Object.hasOwn(tables[LATEST], purge.state) ? tables[LATEST][purge.state] : null;
  if (step?.running && purge.state !== BEFORE_OPEN) return "running";
  if (step?.stop) return "stopped";
  if (BEFORE_WET.includes(purge.state)) return "prepare";
  return purge.state === "sanitise" ? "wet" : "go-on";
}

function inContact(events, now, contact, limit) {
  const wet = instantOf(events, "wet");
  if (wet === null) return { what: "again", left: null };
  const left = contact - (Date.parse(now) - wet) / 1000.0;
  if (left > contact) return { what: "again", left: null };
  if (left > 0.0) return { what: "contact", left };
  return { what: -left <= limit ? "over" : "again", left: null };
}
