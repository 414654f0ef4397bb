/** What purges took, as a share of the beer that was brewed and for each measure left to pack. Twin of shares.py. */

import { offered, readQuantity } from "../quantities/text.js";
import { exactSum } from "./exact.js";
import { isTold } from "./facts.js";

const KINDS = { filled: "tank_volume", harvested: "bucket_volume", taken: "tank_volume" };

/**
 * @param {any[]} events bodies @returns {Object<string, {filled: number, off: number}>} m³ by batch; a batch of which a
 *   filling has no amount is not there
 */
export function volumesOf(events, system) {
  const amounts = new Map();
  const unknown = new Set();
  for (const { batch, event, amount } of events) {
    if (!Object.hasOwn(KINDS, event)) continue;
    if (amount === null) {
      if (event === "filled") unknown.add(batch);
      continue;
    }
    if (!amounts.has(batch)) amounts.set(batch, { filled: [], off: [] });
    const { si } = readQuantity(amount, KINDS[event], offered(KINDS[event], system)[0]);
    amounts.get(batch)[event === "filled" ? "filled" : "off"].push(si);
  }
  const known = [...amounts].filter(([batch, { filled }]) => filled.length && !unknown.has(batch));
  return Object.fromEntries(known.map(([batch, { filled, off }]) => [batch, { filled: exactSum(filled), off: exactSum(off) }]));
}

/** What the purges of some rows took of their batches, m³; null where nothing is known of these. */
export function shareOf(facts, rows, volumes) {
  const known = rows.filter((row) => facts.batch[row] !== null && Object.hasOwn(volumes, facts.batch[row]));
  const batches = [...new Set(known.map((row) => facts.batch[row]))].map((batch) => volumes[batch]);
  if (!batches.length) return null;
  const [filled, off] = ["filled", "off"].map((name) => exactSum(batches.map((batch) => batch[name])));
  const lost = exactSum(known.map((row) => facts.volume_lost[row]).filter(isTold));
  return { batches: batches.length, filled, lost, packed: exactSum([filled, -off, -lost]) };
}
