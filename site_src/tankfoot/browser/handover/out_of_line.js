/** What the gauge of a tank says that the next shift has to know. */

import { toldBy } from "../../batches/gauge.js";
import { words } from "../../wording/words.js";
import { tankFigures } from "../drawing/tank_figures.js";
import { gaugePast } from "../storage/gauge_past.js";

/** @param {any} tank an entry @returns {Promise<string[]>} */
export async function outOfLine(tank) {
  const { name, pressure, rated_pressure: plate, floor_pressure: floor } = tank.body;
  if (pressure === null) return [];
  const isAbove = plate !== null && pressure > plate;
  const isUnder = floor !== null && pressure < floor;
  const what = isAbove ? "above_plate" : pressure < 0 ? "below_zero" : isUnder ? "under_floor" : null;
  const { points, breaks, vessel } = await gaugePast(tank);
  const isFaster = points.length > 0 && toldBy(points, breaks, vessel).faster === true;
  return [what, isFaster && "faster"].filter(Boolean)
    .map((found) => words(`handover.${found}`, { tank: name, pressure: tankFigures(tank.body).pressure }));
}
