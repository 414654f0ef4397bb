/** Air driven out of a closed space by filling it with gas and venting it, again and again. Twin of purging.py. */

import { GAS_CONSTANT } from "./gas.js";

const OXYGEN_IN_AIR = 0.2095;
const OXYGEN_MOLAR_MASS = 0.0319988;
export const MOST_POPS = 200;

export function oxygenAfterPop(share, gasShare, low, high) {
  return gasShare + (share - gasShare) * low / high;
}

export function popsToReach(target, gasShare, outside, vent, top) {
  let share = OXYGEN_IN_AIR;
  let low = outside;
  for (let pops = 1; pops <= MOST_POPS; pops += 1) {
    share = oxygenAfterPop(share, gasShare, low, top);
    if (share <= target) return [pops, share];
    low = vent;
  }
  throw new RangeError(`${MOST_POPS} pops do not reach ${target}: fill higher or allow more oxygen`);
}

export function oxygenMass(share, pressure, volume, temperature) {
  return share * pressure * volume * OXYGEN_MOLAR_MASS / (GAS_CONSTANT * temperature);
}
