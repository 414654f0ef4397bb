/** Where the carbonation of beer drifts to while the tank is held at a pressure. Twin of equilibrium_carbonation.py. */

import { WARMEST_ON_CHARTS, co2InBeer } from "../physics/solubility.js";

export function refusals() {
  return [];
}

export function compute(x) {
  const carbonation = co2InBeer(x.pressure + x.air_pressure, x.temperature, x.beer_factor);
  return { carbonation, co2_content: carbonation };
}

export function remarks(x) {
  return x.temperature > WARMEST_ON_CHARTS ? ["warmer-than-the-charts"] : [];
}
