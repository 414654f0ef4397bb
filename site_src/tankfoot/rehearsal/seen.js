/** What a hand can see and hear of the simulated tank, what counts as done, a row of its course. Twin of seen.py. */

import { timeOf } from "./events.js";
import { BEER, SOLIDS, WATER, shareOf, volumeOf } from "./liquids.js";
import { headspaceOf } from "./moves.js";
import { hoseForce } from "./noticed.js";
import { wayOut } from "./way_out.js";

const HANDLES = [
  "isolation", "flow_valve", "gas", "regulator", "vent", "blow_off", "pipe_end", "outer", "tank_side", "hose", "bleed",
  "away",
];

export function seen(state) {
  const [setup, way] = [state.setup, wayOut(state)];
  const isJet = (way === "tank-side" || way === "outer") && state.jet > 0.0;
  return {
    t: timeOf(state), gauge: state.needle, glass: ofGlass(state),
    flow: state.flow, hose_force: hoseForce(state),
    jet: isJet ? { from: way, flow: state.jet, push: state.jet_push, speed: state.speed } : null,
    bucket: { volume: volumeOf(state.bucket), holds: setup.bucket_holds, over: state.spilt },
    floor: volumeOf(state.floor),
    hears: { gas: state.hiss, relief: state.relief, vacuum: state.vacuum, vent: state.vent },
    pipe: { rises: Math.min(state.rises, setup.blow_lift), lift: setup.blow_lift },
    handles: Object.fromEntries(HANDLES.map((name) => [name, state[name]])),
  };
}

function ofGlass(state) {
  if (state.outer !== "stack") return null;
  const liquids = volumeOf(state.glass);
  const full = Math.min(1.0, liquids / state.setup.glass_holds);
  return {
    air: 1.0 - full, beer: full * shareOf(state.glass, BEER), solids: full * shareOf(state.glass, SOLIDS),
    water: full * shareOf(state.glass, WATER), kind: state.setup.kind, packed: state.packed,
  };
}

/** @param {Record<string, any>} wanted */
export function done(state, wanted) {
  return Object.entries(wanted).map(([code, limit]) => ({ done: code, met: DONE[code](state, limit) }));
}

export function courseRow(state) {
  const { setup, glass } = state;
  return {
    t: timeOf(state), pressure: state.gauge, headspace: headspaceOf(state),
    beer_lost: setup.beer_at_first - state.tank[BEER],
    solids_out: setup.solids_at_first - state.tank[SOLIDS],
    co2_lost: state.co2_lost, glass: volumeOf(glass) > 0.0 ? shareOf(glass, BEER) : null,
  };
}

function shut(state) {
  return state.isolation <= 0.0 && state.tank_side === "closed";
}

const DONE = {
  "shut": shut,
  "solids-left": (s, most) => s.tank[SOLIDS] <= most * s.setup.solids_at_first,
  "beer-lost": (s, most) => s.setup.beer_at_first - s.tank[BEER] <= most,
  "gauge-from": (s, least) => s.gauge >= least,
  "gauge-to": (s, most) => s.gauge <= most,
  "let-down": (s) => s.trapped <= 2000.0,
  "stack": (s, place) => s.outer === place,
  "cleared": (s) => !s.packed,
  "gas-shut": (s) => !s.gas,
  "away": (s) => s.away,
  "happened": (s, codes) => codes.every((code) => s.happened.some((each) => each.happened === code)),
  "no-mistake": (s, codes) => !s.happened.some((each) => codes.includes(each.happened)),
};
