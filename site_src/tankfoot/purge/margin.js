/** Whether a planned draw may begin while the gas is shut. Twin of margin.py. */

import { CO2_HEAT_CAPACITY_RATIO } from "../physics/outflow.js";
import { read, workOut } from "./outcome.js";

/** Why the `planned_draw` of a purge's readings must not begin: "zero", "floor", or null; throws RefusedText. */
export async function drawStop(readings, system) {
  const [, planned] = read("planned_draw", readings.planned_draw ?? "", system);
  const draw = planned.si + (planned.uncertainty ?? 0.0);
  const toZero = least((await workOut("margin", readings, system)).results.draw_to_zero);
  if (toZero <= 0.0 || draw >= fastDraw(toZero, read("headspace", readings.headspace, system)[1].si)) return "zero";
  const toFloor = least((await workOut("to_floor", readings, system)).results.volume_lost);
  return readings.floor_pressure && draw >= toFloor ? "floor" : null;
}

/** Volume (m3) that lowers the gauge as far as `slowDraw` does, drawn too fast for the gas to take up heat. */
export function fastDraw(slowDraw, headspace) {
  return headspace * ((1.0 + slowDraw / headspace) ** (1.0 / CO2_HEAT_CAPACITY_RATIO) - 1.0);
}

function least(margin) {
  return margin ? margin.value - (margin.uncertainty ?? 0.0) : 0.0;
}
