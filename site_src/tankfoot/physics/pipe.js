/** Flow from a tank through its bottom port, a diaphragm valve and a smooth hose. Twin of pipe.py. */

import { pchip, pchipSlopes } from "./interpolation.js";
import { boreArea, exitSpeed } from "./outflow.js";
import { brentRoot } from "./roots.js";

export const LAMINAR_BELOW = 2000.0;
export const TURBULENT_ABOVE = 4000.0;
const ENTRANCE_COEFFICIENT = 0.5;

const VALVE_OPENINGS = [0.25, 0.5, 0.75, 1.0];
const VALVE_LOGARITHMS = [21.0, 4.3, 2.6, 2.3].map((k) => Math.log(k));
const VALVE_SLOPES = pchipSlopes(VALVE_OPENINGS, VALVE_LOGARITHMS);

export function diaphragmValveCoefficient(opening) {
  return Math.exp(pchip(VALVE_OPENINGS, VALVE_LOGARITHMS, VALVE_SLOPES, opening));
}

export function stepCoefficients(bore, nextBore) {
  const ratio = bore * bore / (nextBore * nextBore);
  if (ratio <= 1.0) return [(1.0 - ratio) * (1.0 - ratio), 0.0];
  return [0.0, 0.5 * (1.0 - 1.0 / ratio)];
}

export function reynoldsNumber(speed, bore, density, viscosity) {
  return density * speed * bore / viscosity;
}

export function frictionFactor(reynolds) {
  if (reynolds <= LAMINAR_BELOW) return 64.0 / reynolds;
  if (reynolds < TURBULENT_ABOVE) {
    const [low, high] = [64.0 / LAMINAR_BELOW, serghides(TURBULENT_ABOVE)];
    return low + (high - low) * (reynolds - LAMINAR_BELOW) / (TURBULENT_ABOVE - LAMINAR_BELOW);
  }
  return serghides(reynolds);
}

function serghides(reynolds) {
  const a = -2.0 * Math.log10(12.0 / reynolds);
  const b = -2.0 * Math.log10(2.51 * a / reynolds);
  const c = -2.0 * Math.log10(2.51 * b / reynolds);
  const root = a - (b - a) * (b - a) / (c - 2.0 * b + a);
  return 1.0 / (root * root);
}

export function frictionLoss(speed, length, bore, density, viscosity) {
  const reynolds = reynoldsNumber(speed, bore, density, viscosity);
  if (reynolds <= LAMINAR_BELOW) return 32.0 * viscosity * length * speed / (bore * bore);
  return frictionFactor(reynolds) * length / bore * 0.5 * density * speed * speed;
}

export function hoseSpeed(overpressure, bore, valveCoefficient, length, hoseBore, density, viscosity) {
  const [wider, narrower] = stepCoefficients(bore, hoseBore);
  const ratio = hoseBore * hoseBore / (bore * bore);
  const losses = (ENTRANCE_COEFFICIENT + valveCoefficient + wider) * ratio * ratio + 1.0 + narrower;
  const missing = (speed) => {
    const friction = frictionLoss(speed, length, hoseBore, density, viscosity);
    return 0.5 * density * losses * speed * speed + friction - overpressure;
  };
  return brentRoot(missing, 0.0, exitSpeed(overpressure, density));
}

export function flowAt(speed, bore) {
  return boreArea(bore) * speed;
}
