/** Whether a purge of the record can be read by this app: its table, its step and its readings. Twin of meaning.py. */

import { calculators } from "../calculators/declared.js";
import { kinds } from "../quantities/declared.js";
import { offered, readQuantity, RefusedText } from "../quantities/text.js";
import { readings as declaredReadings } from "./declared.js";
import { LAST, tables } from "./machine.js";

const LARGEST = 1e12; // SI, of a reading: as large as an amount of the record may be

/**
 * What a purge's body, right in its shape, cannot mean, by their places.
 *
 * @returns {[string, string, object][]} place in it, code, facts
 */
export function purgeProblems(body) {
  /** @type {[string, string, object][]} */
  const found = [];
  if (!body.events.length && body.state !== LAST) found.push(["events", "no-events", {}]);
  for (const name of Object.keys(declaredReadings).sort()) {
    const [calculator, like] = declaredReadings[name];
    const { kind } = calculators[calculator].fields[like];
    const text = Object.hasOwn(body.readings, name) ? body.readings[name] : "";
    if (!isRead(text, kind)) found.push([`readings.${name}`, "must-be", { what: "quantity", units: unitsOf(kind) }]);
  }
  if (!Object.hasOwn(tables, body.table)) found.push(["table", "unknown-table", { tables: Object.keys(tables).sort().join(", ") }]);
  else if (!Object.hasOwn(tables[body.table], body.state)) found.push(["state", "unknown-step", { table: body.table }]);
  return found;
}

function unitsOf(kind) {
  return [...new Set(Object.values(kinds[kind]).flat())].join(", ");
}

/** Whether a text is a quantity, or nothing was read. */
function isRead(text, kind) {
  if (!text) return true;
  try {
    return Math.abs(readQuantity(text, kind, offered(kind, "us")[0]).si) <= LARGEST;
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return false;
  }
}
