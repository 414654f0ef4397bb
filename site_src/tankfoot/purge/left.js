/** How a purge that stands still has left what hangs under the tank. Twin of left.py. */

import { LATEST, standing, tables } from "./machine.js";
import { paceOf, SHORT } from "./pace.js";

const HANGS = ["hooked-up", "stack-hangs", "hung"];
const WET = "wet"; // at the short pace told once it is hooked up too

/** @returns {"open"|"pressure"|"on"|null} what may be under the tank; null where no stack hangs */
export function stackLeft(events, state) {
  let hangs = false;
  const isShort = paceOf(events) === SHORT;
  for (const { event } of standing(events)) {
    hangs = (hangs || HANGS.includes(event) || (isShort && event === WET)) && event !== "apart";
  }
  if (!hangs) return null;
  const step = Object.hasOwn(tables[LATEST], state) ? tables[LATEST][state] : null; // it means the same in every table
  if (step?.running) return "open";
  return step?.vented ? "on" : "pressure";
}
