/** Isopropyl alcohol brought down to the strength that kills best. Twin of alcohol_dilution.py. */

import { isopropylDensity, isopropylMassFraction, WATER_DENSITY } from "../physics/alcohol.js";

export function refusals(x) {
  return x.target_strength > x.stock_strength ? [["target_strength", "stronger-than-stock"]] : [];
}

export function compute(x) {
  const stockVolume = x.batch_volume * x.target_strength / x.stock_strength;
  const stockMass = stockVolume * isopropylDensity(isopropylMassFraction(x.stock_strength));
  const density = isopropylDensity(isopropylMassFraction(x.target_strength));
  const waterMass = x.batch_volume * density - stockMass;
  return {
    stock_volume: stockVolume,
    water_volume: waterMass / WATER_DENSITY,
    stock_mass: stockMass,
    water_mass: waterMass,
    density_check: density,
  };
}

export function remarks(x) {
  return x.target_strength >= 0.6 && x.target_strength <= 0.9 ? [] : ["outside-effective-range"];
}
