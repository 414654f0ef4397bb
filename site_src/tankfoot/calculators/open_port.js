/** What the wrong clamp or a slipped hose lets out. Twin of open_port.py. */

import { co2Density } from "../physics/gas.js";
import {
  exitSpeed, forceOnCap, gasOutflow, isChoked, jetForce, portOverpressure, shortTubeFlow,
} from "../physics/outflow.js";

export function refusals(x) {
  const overpressure = portOverpressure(x.pressure, x.liquid_head, x.density);
  return overpressure <= 0.0 ? [["pressure", "nothing-pushes"]] : [];
}

export function compute(x) {
  const overpressure = portOverpressure(x.pressure, x.liquid_head, x.density);
  const flow = shortTubeFlow(overpressure, x.density, x.bore);
  const inside = x.pressure + x.air_pressure;
  return {
    flow,
    time_to_lose: x.loss_volume / flow,
    force_on_cap: forceOnCap(overpressure, x.bore),
    jet_force: jetForce(overpressure, x.bore),
    exit_speed: exitSpeed(overpressure, x.density),
    gas_flow: gasOutflow(inside, x.air_pressure, co2Density(inside, x.temperature), x.bore),
  };
}

export function remarks(x) {
  return isChoked(x.pressure + x.air_pressure, x.air_pressure) ? ["gas-choked"] : [];
}
