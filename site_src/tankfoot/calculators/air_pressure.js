/** The usual air pressure at the brewery, from its height above the sea. Twin of air_pressure.py. */

import { standardAirPressure } from "../physics/atmosphere.js";

export function refusals() {
  return [];
}

export function compute(x) {
  return { air_pressure: standardAirPressure(x.altitude) };
}

export function remarks() {
  return [];
}
