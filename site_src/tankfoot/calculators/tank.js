/** A tank's shape: what it holds, where its beer stands, and the gas above it. Twin of tank.py. */

import {
  coneAngle, coneHeight, coneVolume, crossSection, headVolume, levelAtVolume, straightVolume, volumeAtLevel,
} from "../physics/vessel.js";

/** Two ways to say one thing: exactly one of each pair is given. The first is where a missing one is asked for. */
export const ALTERNATIVES = [
  ["diameter", "circumference", "no-width", "two-widths"],
  ["straight_height", "total_volume", "no-height", "two-heights"],
  ["cone_angle", "cone_height", "no-cone", "two-cones"],
  ["beer_volume", "beer_level", "no-beer", "two-beers"],
];
const PI = 3.141592653589793;

export function refusals(x) {
  const missing = unsettled(x);
  return [...(missing.length ? missing : impossibleShape(x)), ...impossiblePressures(x)];
}

function unsettled(x) {
  return ALTERNATIVES.flatMap(([first, second, missing, doubled]) => {
    const given = Number(x[first] !== null) + Number(x[second] !== null);
    if (given === 1) return [];
    return given === 0 ? [[first, missing]] : [[second, doubled]];
  });
}

function impossibleShape(x) {
  const shape = shapeOf(x);
  const top = shape.cone + shape.straight;
  if (shape.straight <= 0.0) return [["total_volume", "cone-takes-all"]];
  if (shape.depth > 0.5 * shape.diameter) return [["head_depth", "head-too-deep"]];
  const refused = [];
  if (x.arm_height !== null && x.arm_height > top) refused.push(["arm_height", "arm-outside"]);
  if (x.beer_level !== null && x.beer_level > top) refused.push(["beer_level", "above-straight-side"]);
  if (x.beer_volume !== null && x.beer_volume > upToHead(shape)) refused.push(["beer_volume", "above-straight-side"]);
  return refused;
}

function impossiblePressures(x) {
  const { rated_pressure: rated, hold_pressure: hold, floor_pressure: floor } = x;
  const refused = [];
  if (rated !== null && hold !== null && hold > rated) refused.push(["hold_pressure", "hold-above-rated"]);
  if (hold !== null && floor !== null && floor > hold) refused.push(["floor_pressure", "floor-above-hold"]);
  return refused;
}

function shapeOf(x) {
  const diameter = x.diameter === null ? x.circumference / PI : x.diameter;
  const cone = x.cone_height === null ? coneHeight(diameter, x.cone_angle) : x.cone_height;
  const head = x.head_volume === null ? headVolume(diameter, x.head_depth) : x.head_volume;
  const straight = x.straight_height === null
    ? (x.total_volume - head - coneVolume(diameter, cone)) / crossSection(diameter)
    : x.straight_height;
  return { diameter, cone, straight, depth: x.head_depth, head };
}

function upToHead({ diameter, cone, straight }) {
  return straightVolume(diameter, cone, straight);
}

export function compute(x) {
  const shape = shapeOf(x);
  const lengths = [shape.diameter, shape.cone, shape.straight];
  const volume = x.beer_volume === null ? volumeAtLevel(x.beer_level, ...lengths) : x.beer_volume;
  const total = upToHead(shape) + shape.head;
  return {
    headspace: total - volume,
    beer_volume: volume,
    beer_level: x.beer_volume === null ? x.beer_level : levelAtVolume(x.beer_volume, ...lengths),
    total_volume: total,
    diameter: shape.diameter,
    straight_height: shape.straight,
    cone_height: shape.cone,
    cone_angle: coneAngle(shape.diameter, shape.cone),
    cone_volume: coneVolume(shape.diameter, shape.cone),
    arm_volume: x.arm_height === null ? null : volumeAtLevel(x.arm_height, ...lengths),
  };
}

export function remarks(x, y) {
  const said = [];
  if (x.pressure !== null && x.rated_pressure !== null && x.pressure > x.rated_pressure) said.push("above-rated");
  if (x.pressure !== null && x.floor_pressure !== null && x.pressure < x.floor_pressure) said.push("below-floor");
  if (y.arm_volume !== null && y.arm_volume > y.beer_volume) said.push("arm-above-beer");
  return said;
}
