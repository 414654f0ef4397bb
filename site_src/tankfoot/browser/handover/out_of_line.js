/** What a tank's last pressure says that the next shift has to know. */

import { words } from "../../wording/words.js";
import { tankFigures } from "../drawing/tank_figures.js";

/** @param {object} tank an entry @returns {string[]} */
export function outOfLine({ body }) {
  const { pressure, rated_pressure: plate, floor_pressure: floor } = body;
  if (pressure === null) return [];
  const isAbove = plate !== null && pressure > plate;
  const isUnder = floor !== null && pressure < floor;
  const what = isAbove ? "above_plate" : pressure < 0 ? "below_zero" : isUnder ? "under_floor" : null;
  return what ? [words(`handover.${what}`, { tank: body.name, pressure: tankFigures(body).pressure })] : [];
}
