/** How much CO2 beer holds under a pressure, and the pressure that holds it there. Twin of solubility.py. */

import { CO2_MOLAR_MASS, GAS_CONSTANT, co2SecondVirial } from "./gas.js";
import { brentRoot } from "./roots.js";

export const ATMOSPHERE = 101325.0;
const CO2_PARTIAL_MOLAR_VOLUME = 32.3e-6;
export const HIGHEST_PRESSURE = 1.5e6;
export const WARMEST_ON_CHARTS = 285.15;

export function waterVapourPressure(temperature) {
  const t = temperature / 100.0;
  return ATMOSPHERE * Math.exp(24.4543 - 67.4509 / t - 4.8489 * Math.log(t));
}

export function co2Solubility(temperature) {
  const t = temperature / 100.0;
  return 1000.0 / ATMOSPHERE * Math.exp(-58.0931 + 90.5069 / t + 22.2940 * Math.log(t));
}

export function co2InWater(pressure, temperature) {
  const swelling = CO2_PARTIAL_MOLAR_VOLUME * (ATMOSPHERE - pressure);
  const departure = (co2SecondVirial(temperature) * pressure + swelling) / (GAS_CONSTANT * temperature);
  const partial = pressure - waterVapourPressure(temperature);
  return CO2_MOLAR_MASS * co2Solubility(temperature) * partial * Math.exp(departure);
}

export function co2InBeer(pressure, temperature, beerFactor) {
  return beerFactor * co2InWater(pressure, temperature);
}

export function holdingPressure(carbonation, temperature, beerFactor) {
  return brentRoot(
    (pressure) => co2InBeer(pressure, temperature, beerFactor) - carbonation,
    waterVapourPressure(temperature), HIGHEST_PRESSURE,
  );
}
