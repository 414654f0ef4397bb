/** What a purge waits for now, and how it is named. */

import { LATEST, tables } from "../../purge/machine.js";
import { readQuantity, RefusedText } from "../../quantities/text.js";
import { waitsFor } from "../../rounds/waits.js";
import { words } from "../../wording/words.js";
import { settings } from "../storage/settings.js";

export const USUAL_CONTACT = "60 s";

/** @param {object|null} purge its entry @param {string} now an instant @returns {{what: string, left: number|null}} as waitsFor tells it */
export function waitOf(purge, now = new Date().toISOString()) {
  const contact = secondsIn(purge?.body.readings.contact_time || USUAL_CONTACT);
  return waitsFor(purge?.body ?? null, now, contact, settings().contact_limit);
}

/** Whether its port is open, as far as was told. */
export function isPortOpen(purge) {
  return waitOf(purge).what === "running";
}

/** Whether beer can run, told or not: a valve may move before a tap says so. */
export function canRun({ body: { state } }) {
  return Object.hasOwn(tables[LATEST], state) && tables[LATEST][state].running === true; // a state means the same in all
}

export function nameOf({ body }) {
  return body.tank_name || words(`purge.solids.${body.solids}`);
}

/** A text that is no time counts as none: it is wetted again sooner, never later. */
function secondsIn(text) {
  try {
    return readQuantity(text, "duration", "s").si;
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return 0;
  }
}
