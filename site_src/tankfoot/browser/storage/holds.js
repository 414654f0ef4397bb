/** Why tanks are out of use: entries that stand apart from the tank's own, so that no merge loses one. */

import { ofKind } from "./record.js";

/** @returns {Promise<object[]>} the holds that are not lifted, the latest first */
export async function openHolds() {
  const holds = (await ofKind("tank-hold")).filter(({ body }) => body.lifted === null);
  return holds.sort((a, b) => (a.created < b.created ? 1 : -1));
}

/** @returns {Promise<object[]>} every hold of a tank, lifted ones too, the latest first */
export async function holdsOfTank(tank) {
  const holds = (await ofKind("tank-hold")).filter(({ body }) => body.tank === tank);
  return holds.sort((a, b) => (a.created < b.created ? 1 : -1));
}
