/** A closed headspace of CO2: drawn from, settling over beer, leaking. Twin of headspace.py. */

import { CO2_MOLAR_MASS, GAS_CONSTANT, co2Density, co2SecondVirial } from "./gas.js";
import { brentRoot } from "./roots.js";
import { HIGHEST_PRESSURE, co2InBeer, waterVapourPressure } from "./solubility.js";

export function drawVolume(headspace, pressureBefore, pressureAfter, temperature) {
  const before = co2Density(pressureBefore, temperature);
  return headspace * (before / co2Density(pressureAfter, temperature) - 1.0);
}

export function pressureAtDensity(density, temperature) {
  return density * GAS_CONSTANT * temperature / (CO2_MOLAR_MASS - density * co2SecondVirial(temperature));
}

export function settledPressure(headspace, beer, carbonation, pressure, temperature, beerFactor) {
  const before = headspace * co2Density(pressure, temperature) + beer * carbonation;
  const surplus = (settled) => {
    const dissolved = beer * co2InBeer(settled, temperature, beerFactor);
    return headspace * co2Density(settled, temperature) + dissolved - before;
  };
  return brentRoot(surplus, waterVapourPressure(temperature), HIGHEST_PRESSURE);
}
