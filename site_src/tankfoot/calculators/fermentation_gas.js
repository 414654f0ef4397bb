/** Why a fermenting tank with its blow-off in a bucket is not drawn fast. Twin of fermentation_gas.py. */

import { WATER_DENSITY, co2Made, co2VolumeFlow, liftPressure, timeToLift } from "../physics/fermentation.js";
import { platoPerGravity } from "../physics/yeast.js";

export function refusals(x) {
  if (x.extract_fall === null && x.gravity_fall === null) return [["extract_fall", "no-fall"]];
  return x.extract_fall !== null && x.gravity_fall !== null ? [["gravity_fall", "two-falls"]] : [];
}

export function compute(x) {
  const fall = x.extract_fall === null ? platoPerGravity(x.specific_gravity) * x.gravity_fall : x.extract_fall;
  const made = co2Made(x.beer_volume, x.specific_gravity, fall);
  const gas = co2VolumeFlow(made, x.air_pressure, x.temperature);
  const lift = liftPressure(x.pipe_rise, WATER_DENSITY);
  const timed = x.draw_flow !== null && x.headspace !== null;
  return {
    keeps_up_with: gas,
    missing: x.draw_flow === null ? null : x.draw_flow - gas,
    time_to_top: timed ? timeToLift(x.headspace, x.draw_flow, gas, x.air_pressure, lift) : null,
    lift_pressure: lift,
    gas_made: made,
  };
}

export function remarks(x, y) {
  if (y.missing === null) return [];
  if (y.missing <= 0.0) return ["watch-the-bubbles"];
  return x.headspace !== null && y.time_to_top === null ? ["too-fast", "not-to-the-top"] : ["too-fast"];
}
