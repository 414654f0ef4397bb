/** How fast a purge runs through the bottom port, the flow valve and the hose. Twin of purge_flow.py. */

import { portOverpressure } from "../physics/outflow.js";
import {
  diaphragmValveCoefficient, flowAt, hoseSpeed, LAMINAR_BELOW, reynoldsNumber, TURBULENT_ABOVE,
} from "../physics/pipe.js";

export function refusals(x) {
  const refused = [];
  if (portOverpressure(x.pressure, x.liquid_head, x.density) <= 0.0) refused.push(["pressure", "nothing-pushes"]);
  if (x.valve_opening === null && x.loss_coefficient === null) refused.push(["valve_opening", "no-valve"]);
  if (x.valve_opening !== null && x.loss_coefficient !== null) refused.push(["loss_coefficient", "two-valves"]);
  return refused;
}

export function compute(x) {
  const overpressure = portOverpressure(x.pressure, x.liquid_head, x.density);
  const valve = x.loss_coefficient === null ? diaphragmValveCoefficient(x.valve_opening) : x.loss_coefficient;
  const hoseBore = x.hose_bore === null ? x.bore : x.hose_bore;
  const speed = hoseSpeed(overpressure, x.bore, valve, x.hose_length, hoseBore, x.density, x.viscosity);
  const flow = flowAt(speed, hoseBore);
  return {
    flow,
    duration: x.volume / flow,
    port_speed: flow / flowAt(1.0, x.bore),
    reynolds: reynoldsNumber(speed, hoseBore, x.density, x.viscosity),
  };
}

export function remarks(x, y) {
  if (y.reynolds <= LAMINAR_BELOW) return ["laminar"];
  return y.reynolds < TURBULENT_ABOVE ? ["in-between"] : ["turbulent"];
}
