/** The order in which a hand walks past the tanks: an entry of the record, set once; the newest edit counts. */

import { edited, newEntry, ofKind, put } from "./record.js";

/**
 * The tanks in walking order; those that nobody has put into it come after, in the order in which they are given.
 *
 * @param {any[]} tanks entries, by name @returns {Promise<any[]>}
 */
export async function walkingOrder(tanks) {
  const set = (await newest())?.body.tanks ?? [];
  const inOrder = set.map((id) => tanks.find((tank) => tank.id === id)).filter(Boolean);
  return [...inOrder, ...tanks.filter(({ id }) => !set.includes(id))];
}

/** @param {any[]} tanks entries in their new order @returns {Promise<true>} */
export async function saveWalkingOrder(tanks) {
  const entry = await newest();
  const body = { tanks: tanks.map(({ id }) => id) };
  const order = entry ? edited(entry, body) : { ...newEntry("walking-order", body), demo: tanks.every(({ demo }) => demo) };
  return put(order);
}

async function newest() {
  const key = ({ edited: at, id }) => at + id;
  return (await ofKind("walking-order")).reduce((last, entry) => (last && key(last) > key(entry) ? last : entry), null);
}
