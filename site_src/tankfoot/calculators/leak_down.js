/** Did a shut tank leak, or did its gas only cool? Twin of leak_down.py. */

import { co2Density } from "../physics/gas.js";
import { pressureAtDensity } from "../physics/headspace.js";

function densities(x) {
  const before = co2Density(x.pressure_before + x.air_pressure, x.temperature_before);
  return [before, co2Density(x.pressure_after + x.air_pressure, x.temperature_after)];
}

export function refusals(x) {
  const [before, after] = densities(x);
  if (x.floor_pressure === null) return [];
  if (x.floor_pressure >= x.pressure_after) return [["floor_pressure", "at-the-floor"]];
  return after >= before ? [["floor_pressure", "nothing-to-time"]] : [];
}

export function compute(x) {
  const [before, after] = densities(x);
  const rate = x.headspace * (before - after) / x.elapsed;
  /** @type {number|null} */
  let left = null;
  if (x.floor_pressure !== null) {
    const floor = co2Density(x.floor_pressure + x.air_pressure, x.temperature_after);
    left = x.headspace * (after - floor) / rate;
  }
  return {
    pressure_at_same_temperature: pressureAtDensity(after, x.temperature_before) - x.air_pressure,
    leak_rate: rate,
    time_to_floor: left,
  };
}

export function remarks(x, y) {
  const fell = x.pressure_after < x.pressure_before;
  if (y.leak_rate <= 0.0) return [fell ? "cooling-explains-it" : "nothing-lost"];
  return fell ? [] : ["warming-hides-it"];
}
