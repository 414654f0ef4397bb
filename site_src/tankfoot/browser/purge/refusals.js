/** What must not be done now, whoever says that it was: an instruction may be refused, a fact never is. */

import { FIRST, nextState, standing, tables } from "../../purge/machine.js";
import { drawStop } from "../../purge/margin.js";
import { abovePlate } from "../../purge/plate.js";
import { isPortOpen, waitOf } from "../parts/purge_wait.js";
import { openHoldsOf } from "../storage/holds.js";
import { unfinishedPurges } from "../storage/record.js";
import { settings } from "../storage/settings.js";

const ALWAYS_TAKEN = ["undo", "above-plate", "below-zero", "cleared"]; // beside a step's facts

/**
 * Whether one of the instructions that a tap tells of must not be followed.
 *
 * @param {object} purge its entry @param {object|null} tank its entry @param {{event: string}[]} told in their order
 * @param {Object<string, string>} texts of readings that stand on the screen
 */
export async function isRefused({ id, body }, tank, told, texts) {
  const { table, state: at, events, readings } = body;
  const { system } = settings();
  const known = { ...readings, ...texts };
  const names = standing(events).map(({ event }) => event);
  let state = at;
  for (const { event } of told) {
    const { pressures = [], facts = [] } = tables[table][state];
    if (!ALWAYS_TAKEN.includes(event) && !facts.includes(event)) {
      if (state === FIRST && tank && (await openHoldsOf(tank.id)).length > 0) return true;
      if (abovePlate(pressures, known, system)) return true;
      if (event === "time-over" && isWetTooLong(body)) return true;
      if (event === "opened" && await otherOpen(id)) return true;
      if (event === "fits" && await drawStop(known, system) !== null) return true;
    }
    if (event !== told.at(-1).event) state = nextState(state, event, names, table);
    names.push(event);
  }
  return false;
}

/** Whether the sanitizer has been on for so long that it is put on again. */
export function isWetTooLong(body) {
  return waitOf({ body }).what === "again";
}

/** One hand, one open port: another purge on this phone whose port is open, its entry; undefined where none is. */
export async function otherOpen(id) {
  return (await unfinishedPurges()).find((entry) => entry.id !== id && isPortOpen(entry));
}
