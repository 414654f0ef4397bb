/** What the wrong clamp or a slipped hose lets out. Twin of open_port.py. */

import { exitSpeed, forceOnCap, jetForce, portOverpressure, shortTubeFlow } from "../physics/outflow.js";

export function refusals(x) {
  const overpressure = portOverpressure(x.pressure, x.liquid_head, x.density);
  return overpressure <= 0.0 ? [["pressure", "nothing-pushes"]] : [];
}

export function compute(x) {
  const overpressure = portOverpressure(x.pressure, x.liquid_head, x.density);
  const flow = shortTubeFlow(overpressure, x.density, x.bore);
  return {
    flow,
    time_to_lose: x.loss_volume / flow,
    force_on_cap: forceOnCap(overpressure, x.bore),
    jet_force: jetForce(overpressure, x.bore),
    exit_speed: exitSpeed(overpressure, x.density),
  };
}

export function remarks() {
  return [];
}
