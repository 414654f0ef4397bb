/** What comes out of an open port, and how hard it pushes. Twin of outflow.py. */

export const STANDARD_GRAVITY = 9.80665;
const SHORT_TUBE_COEFFICIENT = 0.8;

export function boreArea(bore) {
  return Math.PI * bore * bore / 4.0;
}

export function portOverpressure(pressure, head, density) {
  return pressure + density * STANDARD_GRAVITY * head;
}

export function exitSpeed(overpressure, density) {
  return Math.sqrt(2.0 * overpressure / density);
}

export function shortTubeFlow(overpressure, density, bore) {
  return SHORT_TUBE_COEFFICIENT * boreArea(bore) * exitSpeed(overpressure, density);
}

export function forceOnCap(overpressure, bore) {
  return overpressure * boreArea(bore);
}

export function jetForce(overpressure, bore) {
  return 2.0 * SHORT_TUBE_COEFFICIENT * SHORT_TUBE_COEFFICIENT * overpressure * boreArea(bore);
}
