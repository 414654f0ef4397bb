/** How much CO2 brings a headspace back up to its pressure. Twin of co2_top_up.py. */

import { co2Density, co2NormalDensity } from "../physics/gas.js";

export function refusals(x) {
  if (x.rated_pressure !== null && x.pressure_after > x.rated_pressure) return [["pressure_after", "above-rated"]];
  return x.pressure_after <= x.pressure_before ? [["pressure_after", "no-rise"]] : [];
}

export function compute(x) {
  const before = co2Density(x.pressure_before + x.air_pressure, x.temperature);
  const after = co2Density(x.pressure_after + x.air_pressure, x.temperature);
  const mass = x.headspace * (after - before);
  return {
    co2_mass: mass,
    co2_volume: mass / co2NormalDensity(),
    top_ups_per_cylinder: x.cylinder_mass === null ? null : x.cylinder_mass / mass,
  };
}

export function remarks(x) {
  return x.rated_pressure === null ? ["rated-unknown"] : [];
}
