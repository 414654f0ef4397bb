/** What pressure to hold on the tank for a wanted carbonation. Twin of hold_pressure.py. */

import { WARMEST_ON_CHARTS, co2InBeer, holdingPressure } from "../physics/solubility.js";

const HIGHEST = 600000.0;

export function refusals(x) {
  const held = (pressure) => co2InBeer(pressure, x.temperature, x.beer_factor);
  if (x.carbonation < held(x.air_pressure)) return [["carbonation", "below-outside"]];
  if (x.carbonation > held(HIGHEST)) return [["carbonation", "beyond-the-formula"]];
  if (x.rated_pressure !== null && x.carbonation > held(x.rated_pressure + x.air_pressure)) {
    return [["carbonation", "above-rated"]];
  }
  return [];
}

export function compute(x) {
  return { pressure: holdingPressure(x.carbonation, x.temperature, x.beer_factor) - x.air_pressure };
}

export function curve(x, at) {
  return co2InBeer(at + x.air_pressure, x.temperature, x.beer_factor);
}

export function remarks(x) {
  const said = [];
  if (x.rated_pressure === null) said.push("rated-unknown");
  if (x.temperature > WARMEST_ON_CHARTS) said.push("warmer-than-the-charts");
  return said;
}
