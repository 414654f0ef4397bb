/** Paths of an upright vessel in section. A `view` turns metres into the drawing's units by its `x` and `y`. */

import { radiusAtLevel } from "../../physics/vessel.js";

const SVG = "http://www.w3.org/2000/svg";
const STEPS_IN_HEAD = 16;

/** An SVG element with attributes, and a text in it. */
export function drawn(name, attributes = {}, text = "") {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  if (text) element.textContent = text;
  return element;
}

/** The space between two levels. */
export function region(vessel, from, to, view) {
  const right = levels(vessel, from, to).map((level) => [halfAt(vessel, level), level]);
  const around = [...right, ...[...right].reverse().map(([half, level]) => [-half, level])];
  return `M${around.map((point) => at(point, view)).join("L")}Z`;
}

/** The wall all round. */
export function outline(vessel, view) {
  return region(vessel, 0, vessel.cone + vessel.straight + vessel.depth, view);
}

/** Levels between two at which the wall bends, the head's circle in short steps. */
function levels({ cone, straight, depth }, from, to) {
  const bends = [cone, cone + straight];
  for (let step = 1; step < STEPS_IN_HEAD; step += 1) {
    const part = step / STEPS_IN_HEAD;
    bends.push(cone + straight + depth * (1 - (1 - part) * (1 - part))); // closer together where it curves most
  }
  return [from, ...bends.filter((level) => level > from && level < to), to];
}

function halfAt({ diameter, cone, straight, depth }, level) {
  return radiusAtLevel(level, diameter, cone, straight, depth);
}

function at([half, level], view) {
  return `${view.x(half).toFixed(2)} ${view.y(level).toFixed(2)}`;
}
