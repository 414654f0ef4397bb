/** Why a tank is out of use: entries of kind "tank-hold". Twin of hold.py. */

/** Those of the holds that keep the tank out of use, the latest first. @param {any[]} holds @param {string} tank its id */
export function openHolds(holds, tank) {
  const found = holds.filter(({ deleted, body }) => !deleted && body.tank === tank);
  return latestFirst(found.filter(({ body }) => body.lifted === null));
}

/** Entries by the instant they were made; of one instant by their ids, so that every phone has one order. @param {any[]} entries */
export function latestFirst(entries) {
  return [...entries].sort((a, b) => inOrder(b.created, a.created) || inOrder(b.id, a.id));
}

function inOrder(a, b) {
  return Number(a > b) - Number(a < b);
}
