/** What is said of a tank in figures, in the units this phone is set to. */

import { formatIn } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { tankShape } from "../../tanks/shape.js";
import { unitOf } from "../storage/units.js";

/** The text of an SI value in the unit last chosen for its kind; null for null. */
export function figure(si, kind) {
  if (si === null || si === undefined) return null;
  return local(formatIn(si, unitOf(kind), 3));
}

/** @returns {Object<string, string|null>} texts of a tank's body */
export function tankFigures(tank) {
  return {
    pressure: figure(tank.pressure, "gauge_pressure"),
    headspace: figure(tankShape(tank).headspace, "tank_volume"),
    beer_volume: figure(tank.beer_volume, "tank_volume"),
    arm_height: figure(tank.arm_height, "length"),
  };
}
