/** How much sanitizer a port takes, sprayed or flushed. Twin of contact_volume.py. */

import { boreArea } from "../physics/outflow.js";

const RUNS_OFF = 5e-4;

export function refusals() {
  return [];
}

export function compute(x) {
  const wall = Math.PI * x.bore * x.length;
  return {
    flush_volume: x.rounds * boreArea(x.bore) * x.length,
    spray_volume: x.rounds * wall * x.film / x.landing_share,
  };
}

export function remarks(x) {
  return x.film > RUNS_OFF ? ["runs-off"] : [];
}
