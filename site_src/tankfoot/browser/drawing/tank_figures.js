/** What is said of a tank in figures, in the units this phone is set to. */

import { units } from "../../quantities/declared.js";
import { formatPlain, withUnit } from "../../quantities/format.js";
import { offered } from "../../quantities/text.js";
import { tankShape } from "../../tanks/shape.js";
import { settings } from "../storage/settings.js";

/** The text of an SI value in the unit last chosen for its kind; null for null. */
export function figure(si, kind) {
  if (si === null || si === undefined) return null;
  const symbols = offered(kind, settings().system);
  const remembered = settings().units[kind];
  const symbol = symbols.includes(remembered) ? remembered : symbols[0];
  const { factor, offset } = units[symbol];
  return withUnit(formatPlain((si - offset) / factor, 3), symbol);
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
