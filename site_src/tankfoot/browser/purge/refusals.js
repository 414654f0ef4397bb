/** What must not be done now, whoever says that it was: an instruction may be refused, a fact never is. */

import { FIRST, nextState, standing, tables } from "../../purge/machine.js";
import { drawStop } from "../../purge/margin.js";
import { abovePlate } from "../../purge/plate.js";
import { isPortOpen, waitOf } from "../parts/purge_wait.js";
import { settings } from "../storage/settings.js";

const ALWAYS_TAKEN = ["undo", "above-plate", "below-zero", "cleared"]; // beside a step's facts

/**
 * Whether one of the instructions that a tap tells of must not be followed.
 *
 * @param {object} purge its entry @param {object|null} tank its entry @param {{event: string}[]} told in their order
 * @param {Object<string, string>} texts of readings that stand on the screen @param {import("./keeper.js").Keeper} keeper
 */
export async function isRefused({ id, body }, tank, told, texts, keeper) {
  const { table, state: at, events, readings } = body;
  const { system } = settings();
  const known = { ...readings, ...texts };
  const names = standing(events).map(({ event }) => event);
  let state = at;
  for (const { event } of told) {
    const { pressures = [], facts = [] } = tables[table][state];
    if (!ALWAYS_TAKEN.includes(event) && !facts.includes(event)) {
      if (state === FIRST && tank && (await keeper.openHoldsOf(tank.id)).length > 0) return true;
      if (abovePlate(pressures, known, system)) return true;
      if (event === "time-over" && isWetTooLong(body, keeper)) return true;
      if (event === "opened" && await otherOpen(id, keeper)) return true;
      if (event === "fits" && await drawStop(known, system) !== null) return true;
    }
    if (event !== told.at(-1).event) state = nextState(state, event, names, table);
    names.push(event);
  }
  return false;
}

/** Whether the sanitizer has been on for so long that it is put on again. */
export function isWetTooLong(body, keeper) {
  return waitOf({ body }, new Date(keeper.now()).toISOString()).what === "again";
}

/** One hand, one open port: another purge there whose port is open, its entry; undefined where none is. */
export async function otherOpen(id, keeper) {
  return (await keeper.unfinishedPurges()).find((entry) => entry.id !== id && isPortOpen(entry));
}
