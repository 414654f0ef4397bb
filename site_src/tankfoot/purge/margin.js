/** How much may leave while the gas is shut, and whether a planned draw may begin. Twin of margin.py. */

import { CO2_HEAT_CAPACITY_RATIO } from "../physics/outflow.js";
import { units } from "../quantities/declared.js";
import { read, workOut } from "./outcome.js";

/** Why the `planned_draw` of a purge's readings must not begin: "zero", "floor", or null; throws RefusedText. */
export async function drawStop(readings, system) {
  const [, planned] = read("planned_draw", readings.planned_draw ?? "", system);
  const draw = planned.si + (planned.uncertainty ?? 0.0);
  const limits = await drawLimits(readings, system, planned.unit);
  return ["zero", "floor"].find((name) => name in limits && draw > limits[name]) ?? null;
}

/** What may leave at most, m3, and which limit that is. @returns {Promise<[number, string]>} */
export async function drawLimit(readings, system, unit) {
  const { zero, floor } = await drawLimits(readings, system, unit);
  return floor !== undefined && floor < zero ? [floor, "floor"] : [zero, "zero"];
}

/** What may leave before each limit, m3, less its ±, rounded down as shown. @returns {Promise<Object<string, number>>} */
export async function drawLimits(readings, system, unit) {
  const toZero = least((await workOut("margin", readings, system)).results.draw_to_zero);
  const fast = toZero > 0.0 ? fastDraw(toZero, read("headspace", readings.headspace, system)[1].si) : 0.0;
  const limits = { zero: roundedDown(fast, unit) };
  if (readings.floor_pressure) {
    const toFloor = least((await workOut("to_floor", readings, system)).results.volume_lost);
    limits.floor = roundedDown(toFloor, unit);
  }
  return limits;
}

/** A volume (m3) cut to three significant digits in a unit, m3 again; nothing below zero. */
export function roundedDown(volume, unit) {
  const { factor } = units[unit];
  const [digits, power] = (Math.max(volume, 0.0) / factor).toExponential(11).split("e");
  return Number(`${digits.slice(0, 4)}e${power}`) * factor;
}

/** Volume (m3) that lowers the gauge as far as `slowDraw` does, drawn too fast for the gas to take up heat. */
export function fastDraw(slowDraw, headspace) {
  return headspace * ((1.0 + slowDraw / headspace) ** (1.0 / CO2_HEAT_CAPACITY_RATIO) - 1.0);
}

function least(margin) {
  return margin ? margin.value - (margin.uncertainty ?? 0.0) : 0.0;
}
