/** The gas above the beer: CO2 as a real gas and the air that came in, its heat. Twin of gas_space.py. */

import { CO2_MOLAR_MASS, GAS_CONSTANT, NORMAL_TEMPERATURE } from "../physics/gas.js";
import { pressureAtDensity } from "../physics/headspace.js";
import { gasOutflow } from "../physics/outflow.js";

export const AIR_MOLAR_MASS = 0.0289647;
const HEAT_CAPACITY = 27.67;
const HEAT_CAPACITY_RISE = 0.046;
const LINEAR_BELOW = 100.0;

export function gasPressure(co2, air, volume, temperature) {
  return pressureAtDensity(co2 / volume, temperature) + air * GAS_CONSTANT * temperature / volume;
}

export function secondVirialSlope(temperature) {
  const t = temperature;
  return 1e-6 * (12.0408 + t * (-2.0 * 3.27957e-2 + t * 3.0 * 3.16528e-5));
}

export function expansionPressure(pressure, temperature) {
  return pressure + pressure * pressure * secondVirialSlope(temperature) / GAS_CONSTANT;
}

export function heatCapacity(co2, air, temperature) {
  const amount = co2 / CO2_MOLAR_MASS + air;
  return amount * (HEAT_CAPACITY + HEAT_CAPACITY_RISE * (temperature - NORMAL_TEMPERATURE));
}

export function exchange(inside, outside, density, bore) {
  const apart = inside - outside;
  const [high, low] = [Math.max(inside, outside), Math.min(inside, outside)];
  if (Math.abs(apart) < LINEAR_BELOW) {
    return gasOutflow(low + LINEAR_BELOW, low, density, bore) * apart / LINEAR_BELOW;
  }
  return Math.sign(apart) * gasOutflow(high, low, density, bore);
}

export function airDensity(pressure, temperature) {
  return pressure * AIR_MOLAR_MASS / (GAS_CONSTANT * temperature);
}
