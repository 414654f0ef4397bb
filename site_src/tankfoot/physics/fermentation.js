/**
 * A fermenting tank that is open through its blow-off pipe: the gas the yeast makes, and what a draw takes.
 * Twin of fermentation.py.
 */

import { co2Density } from "./gas.js";
import { CO2_HEAT_CAPACITY_RATIO, STANDARD_GRAVITY } from "./outflow.js";

export const WATER_DENSITY = 998.2;
const EXTRACT_PER_ALCOHOL = 2.0665;
const CO2_PER_ALCOHOL = 0.9565;
const REAL_PER_APPARENT = 0.8192;

export function co2FromExtract(extract) {
  return CO2_PER_ALCOHOL / EXTRACT_PER_ALCOHOL * extract;
}

export function co2Made(volume, gravity, fall) {
  return co2FromExtract(volume * gravity * WATER_DENSITY * REAL_PER_APPARENT * fall / 100.0);
}

export function co2VolumeFlow(massFlow, pressure, temperature) {
  return massFlow / co2Density(pressure, temperature);
}

export function liftPressure(height, density) {
  return density * STANDARD_GRAVITY * height;
}

export function timeToLift(headspace, draw, gas, outside, lift) {
  const surplus = (outside - lift) * draw - outside * gas;
  if (surplus <= 0.0) return null;
  const growth = Math.log1p(lift * draw / surplus) / CO2_HEAT_CAPACITY_RATIO;
  return headspace / draw * Math.expm1(growth);
}
