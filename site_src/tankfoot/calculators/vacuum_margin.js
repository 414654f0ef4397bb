/** How much may leave with the gas shut before the tank is down to the pressure outside. Twin of vacuum_margin.py. */

import { co2Density } from "../physics/gas.js";
import { drawVolume, pressureAtDensity } from "../physics/headspace.js";

export function refusals(x) {
  return x.pressure_before <= 0.0 ? [["pressure_before", "no-margin"]] : [];
}

export function compute(x) {
  const pressure = x.pressure_before + x.air_pressure;
  const draw = drawVolume(x.headspace, pressure, x.air_pressure, x.temperature);
  const flow = x.draw_flow;
  return {
    draw_to_zero: draw,
    time_to_zero: flow === null ? null : draw / flow,
    makeup_mass_flow: flow === null ? null : flow * co2Density(pressure, x.temperature),
  };
}

export function curve(x, at) {
  const density = co2Density(x.pressure_before + x.air_pressure, x.temperature);
  return pressureAtDensity(density * x.headspace / (x.headspace + at), x.temperature) - x.air_pressure;
}

export function remarks(x, y) {
  return y.time_to_zero !== null && y.time_to_zero < 60.0 ? ["under-a-minute"] : [];
}
