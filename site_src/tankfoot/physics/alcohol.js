/** Isopropyl alcohol (2-propanol) and water at 20 °C, where volumes do not add up. Twin of alcohol.py. */

import { pchip, pchipSlopes } from "./interpolation.js";
import { brentRoot } from "./roots.js";

const MASS_FRACTIONS = [0.0, 0.05, 0.10, 0.20, 0.40, 0.60, 0.80, 1.0];
const DENSITIES = [998.2, 988.4, 981.6, 969.6, 930.2, 882.4, 834.1, 784.8];
const SLOPES = pchipSlopes(MASS_FRACTIONS, DENSITIES);
export const WATER_DENSITY = DENSITIES[0];
export const PURE_DENSITY = DENSITIES[DENSITIES.length - 1];

export function isopropylDensity(massFraction) {
  return pchip(MASS_FRACTIONS, DENSITIES, SLOPES, massFraction);
}

export function isopropylStrength(massFraction) {
  return massFraction * isopropylDensity(massFraction) / PURE_DENSITY;
}

export function isopropylMassFraction(strength) {
  return brentRoot((w) => isopropylStrength(w) - strength, 0.0, 1.0);
}
