/** Why the gauge of a topped-up tank sags, and where it comes to rest. Twin of pressure_settling.py. */

import { co2Density } from "../physics/gas.js";
import { settledPressure } from "../physics/headspace.js";
import { WARMEST_ON_CHARTS, co2InBeer } from "../physics/solubility.js";

const HIGHEST_FOR_GAS = 400000.0;

export function refusals() {
  return [];
}

export function compute(x) {
  const before = x.pressure_after + x.air_pressure;
  const after = settledPressure(
    x.headspace, x.beer_volume, x.carbonation_now, before, x.temperature, x.beer_factor,
  );
  const given = co2Density(before, x.temperature) - co2Density(after, x.temperature);
  return {
    settled_pressure: after - x.air_pressure,
    settled_carbonation: co2InBeer(after, x.temperature, x.beer_factor),
    co2_taken_up: x.headspace * given,
  };
}

export function remarks(x, y) {
  const said = [];
  if (y.settled_pressure < 0.0) said.push("below-outside");
  else if (y.co2_taken_up < 0.0) said.push("gives-off");
  if (y.settled_pressure + x.air_pressure > HIGHEST_FOR_GAS) said.push("beyond-the-gas-formula");
  if (x.temperature > WARMEST_ON_CHARTS) said.push("warmer-than-the-charts");
  return said;
}
