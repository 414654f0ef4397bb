/** Whether a pressure is above the one on the tank's plate. Twin of plate.py. */

import { read } from "./outcome.js";

/** @param {string[]} pressures @param {Object<string, string>} readings @returns {string|null}; throws RefusedText */
export function abovePlate(pressures, readings, system) {
  if (!readings.rated_pressure) return null;
  const rated = read("rated_pressure", readings.rated_pressure, system)[1].si;
  return pressures.find((name) => readings[name] && read(name, readings[name], system)[1].si > rated) ?? null;
}
