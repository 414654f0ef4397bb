/** What left a closed tank, from the drop of its pressure. Twin of purge_volume.py. */

import { co2Density } from "../physics/gas.js";

export function refusals(x) {
  return x.pressure_after >= x.pressure_before ? [["pressure_after", "no-drop"]] : [];
}

export function compute(x) {
  const before = co2Density(x.pressure_before + x.air_pressure, x.temperature);
  const after = co2Density(x.pressure_after + x.air_pressure, x.temperature);
  const lost = x.headspace * (before / after - 1.0);
  return {
    volume_lost: lost,
    share_of_beer: x.beer_volume === null ? null : lost / x.beer_volume,
    money_lost: x.beer_value === null ? null : lost * x.beer_value,
  };
}

export function remarks(x, y) {
  return x.beer_volume !== null && y.volume_lost > x.beer_volume ? ["more-than-there-was"] : [];
}
