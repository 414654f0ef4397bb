/** Solids in the cone: depth to volume or back, and what clears the racking arm. Twin of cone_contents.py. */

import { solidsDepth, solidsVolume } from "../physics/cone.js";

export function refusals(x) {
  const refused = [];
  if (x.depth === null && x.volume === null) refused.push(["depth", "nothing-measured"]);
  if (x.depth !== null && x.volume !== null) refused.push(["volume", "both-measured"]);
  if (x.tank_diameter !== null && x.tank_diameter <= x.bore) refused.push(["tank_diameter", "narrower-than-outlet"]);
  return refused;
}

export function compute(x) {
  const shape = [x.bore, x.cone_angle, x.tank_diameter];
  const depth = x.depth === null ? solidsDepth(x.volume, ...shape) : x.depth;
  const volume = x.volume === null ? solidsVolume(x.depth, ...shape) : x.volume;
  const overArm = x.arm_height === null ? null : Math.max(0.0, volume - solidsVolume(x.arm_height, ...shape));
  return { volume, depth, to_clear_arm: overArm };
}

export function remarks(x, y) {
  const said = [];
  if (x.arm_height !== null) said.push(y.to_clear_arm > 0.0 ? "arm-in-solids" : "arm-above-solids");
  if (x.tank_diameter === null) said.push("cone-only");
  return said;
}
