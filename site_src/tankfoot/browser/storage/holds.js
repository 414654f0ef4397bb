/** Why tanks are out of use: entries that stand apart from the tank's own, so that no merge loses one. */

import { latestFirst, openHolds } from "../../tanks/hold.js";
import { newEntry, ofKind, unliftedHolds } from "./record.js";

/** @returns {Promise<object[]>} every hold of a tank, lifted ones too, the latest first */
export async function holdsOfTank(tank) {
  return latestFirst((await ofKind("tank-hold")).filter(({ body }) => body.tank === tank));
}

/** @returns {Promise<object[]>} the holds that keep a tank out of use, the latest first */
export async function openHoldsOf(tank) {
  return openHolds(await unliftedHolds(tank), tank);
}

/**
 * A hold that nobody has lifted, not yet written.
 *
 * @param {object} tank its entry
 * @param {{why: string, note?: string, by: string|null, purge?: string|null}} said
 */
export function newHold(tank, { why, note = "", by, purge = null }) {
  const body = { tank: tank.id, why, note, by, purge, lifted: null, lifted_by: null, lifted_why: null };
  return { ...newEntry("tank-hold", body), demo: tank.demo };
}
