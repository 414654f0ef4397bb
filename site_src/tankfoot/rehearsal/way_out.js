/** The way out of the tank's foot: valves, what is plugged, how fast it runs. Twin of way_out.py. */

import { pchip, pchipSlopes } from "../physics/interpolation.js";
import { SHORT_TUBE_COEFFICIENT, STANDARD_GRAVITY, boreArea, exitSpeed } from "../physics/outflow.js";
import { diaphragmValveCoefficient, hoseSpeed } from "../physics/pipe.js";

const BUTTERFLY_OPENINGS = [60.0, 40.0, 20.0, 10.0, 5.0].map((degrees) => 1.0 - degrees / 90.0);
const BUTTERFLY_LOGARITHMS = [118.0, 10.8, 1.54, 0.52, 0.24].map((k) => Math.log(k));
const BUTTERFLY_SLOPES = pchipSlopes(BUTTERFLY_OPENINGS, BUTTERFLY_LOGARITHMS);
const NEARLY_SHUT = 4.0;
const DIAPHRAGM_FROM = 0.25;
const THROTTLED = 2.0;
const LINEAR_BELOW = 100.0;
const SLUG = 0.35;
const GLUGS_BELOW = 500.0;

export function isolationCoefficient(opening) {
  const [first, last] = [BUTTERFLY_OPENINGS[0], BUTTERFLY_OPENINGS[BUTTERFLY_OPENINGS.length - 1]];
  const within = Math.min(Math.max(opening, first), last);
  const table = Math.exp(pchip(BUTTERFLY_OPENINGS, BUTTERFLY_LOGARITHMS, BUTTERFLY_SLOPES, within));
  return table * Math.pow(within / Math.min(opening, within), NEARLY_SHUT);
}

export function flowValveCoefficient(opening) {
  const within = Math.max(opening, DIAPHRAGM_FROM);
  return diaphragmValveCoefficient(within) * Math.pow(within / opening, THROTTLED);
}

export function mixedViscosity(beer, solids, share) {
  return beer * Math.pow(solids / beer, share);
}

export function liquidLevel(setup, volume) {
  if (volume <= setup.in_cone) return setup.cone * Math.pow(volume / setup.in_cone, 1.0 / 3.0);
  const level = setup.cone + (Math.min(volume, setup.below_head) - setup.in_cone) / setup.across;
  if (volume <= setup.below_head || setup.head <= 0.0) return level;
  return level + setup.head_depth * Math.min(1.0, (volume - setup.below_head) / setup.head);
}

/** @returns {"tank-side" | "outer" | "hose" | null} */
export function wayOut(state) {
  if (state.tank_side === "open") return "tank-side";
  if (isolationOf(state) <= 0.0 || state.plugged) return null;
  if (state.outer === "open") return "outer";
  if (state.outer === "stack" && state.flow_valve > 0.0 && !state.packed) return "hose";
  return null;
}

export function isolationOf(state) {
  return Math.max(state.isolation, state.setup.leak);
}

export function portSpeed(state, way, overpressure, solidsShare) {
  if (overpressure <= 0.0) return 0.0;
  const [setup, pushes] = [state.setup, Math.max(overpressure, LINEAR_BELOW)];
  const part = Math.min(1.0, overpressure / LINEAR_BELOW);
  if (way !== "hose") return part * jetCoefficient(state, way) * exitSpeed(pushes, setup.density);
  const loss = isolationCoefficient(isolationOf(state)) + flowValveCoefficient(state.flow_valve);
  const viscosity = mixedViscosity(setup.viscosity, setup.solids_viscosity, solidsShare);
  const [bore, hoseBore] = [setup.bore, setup.hose_bore];
  const speed = hoseSpeed(pushes, bore, loss, setup.hose_length, hoseBore, setup.density, viscosity);
  return part * speed * boreArea(hoseBore) / boreArea(bore);
}

export function jetCoefficient(state, way) {
  if (way === "tank-side") return SHORT_TUBE_COEFFICIENT;
  const loss = isolationCoefficient(isolationOf(state));
  return 1.0 / Math.sqrt(1.0 / (SHORT_TUBE_COEFFICIENT * SHORT_TUBE_COEFFICIENT) + loss);
}

export function gasCoefficient(state, way) {
  if (way !== "hose") return jetCoefficient(state, way);
  const loss = isolationCoefficient(isolationOf(state)) + flowValveCoefficient(state.flow_valve);
  return 1.0 / Math.sqrt(1.0 / (SHORT_TUBE_COEFFICIENT * SHORT_TUBE_COEFFICIENT) + loss);
}

export function glugFlow(bore, overpressure) {
  const share = Math.min(1.0, Math.max(0.0, 1.0 - overpressure / GLUGS_BELOW));
  return 0.5 * boreArea(bore) * SLUG * Math.sqrt(STANDARD_GRAVITY * bore) * share;
}
