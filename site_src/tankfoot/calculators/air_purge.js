/** How many fill-and-vent pops clear a hose, a connector or a headspace of air. Twin of air_purge.py. */

import { oxygenMass, popsToReach } from "../physics/purging.js";

export const STEPPED = ["cycles", "oxygen_left", "oxygen_pickup"];
const MANY_POPS = 20;

function pops(x) {
  const vent = x.vent_pressure + x.air_pressure;
  return popsToReach(x.target_oxygen, x.gas_oxygen, x.air_pressure, vent, x.top_pressure + x.air_pressure);
}

export function refusals(x) {
  if (x.vent_pressure >= x.top_pressure) return [["vent_pressure", "vent-not-below-top"]];
  if (x.target_oxygen <= x.gas_oxygen) return [["target_oxygen", "gas-is-not-that-clean"]];
  try {
    pops(x);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return [["top_pressure", "too-many-pops"]];
  }
  return [];
}

export function compute(x) {
  const [cycles, share] = pops(x);
  const left = oxygenMass(share, x.vent_pressure + x.air_pressure, x.volume, x.temperature);
  return {
    cycles,
    oxygen_left: share,
    oxygen_pickup: x.beer_volume === null ? null : left / x.beer_volume,
  };
}

export function remarks(x, y) {
  return y.cycles > MANY_POPS ? ["many-pops"] : [];
}
