/** The tank's holds that a change of its purge makes or lifts. */

import { handOf, holdsOf } from "../../purge/machine.js";
import { newHold } from "../storage/holds.js";
import { edited } from "../storage/record.js";

/**
 * What was lifted elsewhere meanwhile stays lifted, since only what this change finds makes a hold.
 *
 * @param {object} purge its entry until now @param {object} body what it becomes @param {object} tank its tank's entry
 * @param {import("./keeper.js").Keeper} keeper
 * @returns {Promise<object[]>} entries to be written with it
 */
export async function changedHolds(purge, body, tank, keeper) {
  const [before, after] = [purge.body, body].map(({ events, table }) => holdsOf(events, table));
  const found = after.filter((why) => !before.includes(why));
  const over = before.filter((why) => !after.includes(why));
  if (!found.length && !over.length) return [];
  const isOver = ({ body: hold }) => hold.purge === purge.id && over.includes(hold.why);
  const { at, data } = body.events.at(-1);
  const lifted = { lifted: at, lifted_by: data?.by ?? null, lifted_why: data?.reason ?? null };
  return [
    ...found.map((why) => newHold(tank, { why, by: handOf(body.events), purge: purge.id })),
    ...(await keeper.openHoldsOf(tank.id)).filter(isOver).map((hold) => edited(hold, { ...hold.body, ...lifted })),
  ];
}
