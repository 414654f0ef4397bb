/** Whether a pressure is above the one on the tank's plate. Twin of plate.py. */

import { calculators } from "../calculators/declared.js";
import { offered, readQuantity } from "../quantities/text.js";
import { readings as declaredReadings } from "./declared.js";

/** @param {string[]} pressures @param {Object<string, string>} readings @returns {string|null}; throws RefusedText */
export function abovePlate(pressures, readings, system) {
  if (!readings.rated_pressure) return null;
  const rated = pascals("rated_pressure", readings, system);
  return pressures.find((name) => readings[name] && pascals(name, readings, system) > rated) ?? null;
}

function pascals(name, readings, system) {
  const [calculator, like] = declaredReadings[name];
  const { kind } = calculators[calculator].fields[like];
  return readQuantity(readings[name], kind, offered(kind, system)[0]).si;
}
