/** What lies in the cone of a tank: depth to volume, and back. Twin of cone.py. */

import { brentRoot } from "./roots.js";

const MORE_THAN_ENOUGH = 1.001;

export function coneHeight(diameter, outlet, angle) {
  return (diameter - outlet) / (2.0 * Math.tan(angle / 2.0));
}

export function frustumVolume(depth, outlet, angle) {
  const bottom = outlet / 2.0;
  const top = bottom + depth * Math.tan(angle / 2.0);
  return Math.PI / 3.0 * depth * (bottom * bottom + bottom * top + top * top);
}

export function solidsVolume(depth, outlet, angle, diameter) {
  if (diameter === null) return frustumVolume(depth, outlet, angle);
  const height = coneHeight(diameter, outlet, angle);
  if (depth <= height) return frustumVolume(depth, outlet, angle);
  return frustumVolume(height, outlet, angle) + Math.PI / 4.0 * diameter * diameter * (depth - height);
}

export function solidsDepth(volume, outlet, angle, diameter) {
  if (diameter !== null) {
    const height = coneHeight(diameter, outlet, angle);
    const cone = frustumVolume(height, outlet, angle);
    if (volume >= cone) return height + (volume - cone) / (Math.PI / 4.0 * diameter * diameter);
  }
  const slope = Math.tan(angle / 2.0);
  const sharp = Math.pow(3.0 * volume / (Math.PI * slope * slope), 1.0 / 3.0);
  return brentRoot((h) => frustumVolume(h, outlet, angle) - volume, 0.0, MORE_THAN_ENOUGH * sharp);
}
