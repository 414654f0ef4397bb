/** What follows from the numbers in a tank's body. Twin of shape.py. */

import { coneHeight, headVolume, levelAtVolume, straightVolume } from "../physics/vessel.js";

/**
 * In m and m3; `level` is null where the beer stands in the head.
 *
 * @returns {{cone: number, total: number, head: number, level: number|null, headspace: number}}
 */
export function tankShape(body) {
  const { diameter, straight_height: straight, beer_volume: beer } = body;
  const cone = coneHeight(diameter, body.cone_angle);
  const belowHead = straightVolume(diameter, cone, straight);
  const head = body.head_volume ?? headVolume(diameter, body.head_depth);
  /** @type {number|null} */
  let level = 0.0;
  if (beer > belowHead) level = null;
  else if (beer > 0.0) level = levelAtVolume(beer, diameter, cone, straight);
  const total = belowHead + head;
  return { cone, total, head, level, headspace: total - beer };
}
