/** When an emergency card was last opened on this phone: a check made before that is asked again. */

import { openMemory } from "./memory.js";

const memory = openMemory("tankfoot-card");

/** Notes that one is open now. */
export function noteCard() {
  return memory.save({ opened: new Date().toISOString() });
}

/** @returns {string|null} the instant, null where none is known */
export function cardOpened() {
  const { opened } = memory.glance();
  return typeof opened === "string" ? opened : null;
}
