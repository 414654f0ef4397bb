/** Whether a planned draw may begin while the gas is shut. Twin of margin.py. */

import { read, workOut } from "./outcome.js";

/** Why the `planned_draw` of a purge's readings must not begin: "zero", "floor", or null; throws RefusedText. */
export async function drawStop(readings, system) {
  const [, planned] = read("planned_draw", readings.planned_draw ?? "", system);
  const toZero = (await workOut("margin", readings, system)).results.draw_to_zero;
  if (!fits(planned.si, toZero)) return "zero";
  const toFloor = (await workOut("to_floor", readings, system)).results.volume_lost;
  return readings.floor_pressure && !fits(planned.si, toFloor) ? "floor" : null;
}

function fits(planned, margin) {
  return Boolean(margin) && planned < margin.value - (margin.uncertainty ?? 0.0);
}
