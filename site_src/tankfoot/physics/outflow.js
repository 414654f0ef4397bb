/** What comes out of an open port, and how hard it pushes. Twin of outflow.py. */

export const STANDARD_GRAVITY = 9.80665;
export const SHORT_TUBE_COEFFICIENT = 0.8;
export const CO2_HEAT_CAPACITY_RATIO = 1.3;
const CHOKING_RATIO = 0.5457;

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

export function isChoked(inside, outside) {
  return outside <= CHOKING_RATIO * inside;
}

export function gasOutflow(inside, outside, density, bore) {
  const k = CO2_HEAT_CAPACITY_RATIO;
  let share;
  if (isChoked(inside, outside)) {
    share = k * Math.pow(2.0 / (k + 1.0), (k + 1.0) / (k - 1.0));
  } else {
    const fall = Math.log1p((inside - outside) / outside);
    share = -2.0 * k / (k - 1.0) * Math.exp(-2.0 / k * fall) * Math.expm1(-(k - 1.0) / k * fall);
  }
  return SHORT_TUBE_COEFFICIENT * boreArea(bore) * Math.sqrt(share * inside * density);
}
