/** A rehearsal as it begins, and each twentieth of a second of it. Twin of model.py. */

import { co2Density } from "../physics/gas.js";
import { boreArea } from "../physics/outflow.js";
import { seeded } from "../purge/shuffle.js";
import { STEPS_A_SECOND, told } from "./events.js";
import { BEER, NOTHING, SOLIDS, added, passed, shareOf, volumeOf } from "./liquids.js";
import { lifted, moved, overpressureOf, pressureOf, rates, reliefLift, vacuumLift } from "./moves.js";
import { noticed } from "./noticed.js";
import { setupOf } from "./setup.js";
import { coreAfter, plugBegins, plugLasts } from "./solids.js";
import { jetCoefficient, wayOut } from "./way_out.js";

export const STEP = 1.0 / STEPS_A_SECOND;
const SEEPS = 5.0;
const PLUG_OPENS = 8.0;

/** @param {string} seed */
export function begin(scenario, seed) {
  const [setup, begins] = [setupOf(scenario), scenario.begins];
  const tank = [setup.beer_at_first, setup.solids_at_first, 0.0];
  const [gauge, headspace] = [scenario.tank.pressure, setup.total - volumeOf(tank)];
  const between = begins.trapped === null ? NOTHING : [0.0, setup.between_holds, 0.0];
  return {
    scenario: scenario.name, setup, steps: 0, chance: seeded(seed),
    tank, co2: co2Density(gauge + setup.air_pressure, setup.temperature) * headspace, air: 0.0,
    gas_temperature: setup.temperature, gauge, needle: begins.needle ?? gauge,
    core: 0.0, plugged: false, plug_ends: 0, packed: begins.packed,
    between, glass: begins.packed ? [0.0, setup.glass_holds, 0.0] : NOTHING,
    pipe: NOTHING, bucket: NOTHING, drain: NOTHING, floor: NOTHING, blow_bucket: setup.blow_water,
    trapped: begins.trapped ?? 0.0, connector: "air", drawn: NOTHING,
    co2_made: 0.0, co2_supplied: 0.0, co2_lost: 0.0, air_in: 0.0, air_lost: 0.0,
    isolation: begins.isolation, flow_valve: begins.flow_valve, gas: begins.gas,
    regulator: begins.regulator, vent: 0.0, blow_off: begins.blow_off, pipe_end: "in", outer: begins.outer,
    tank_side: "closed", hose: begins.hose, bleed: false, away: false,
    speed: 0.0, flow: 0.0, jet: 0.0, jet_push: 0.0, hiss: 0.0, relief: 0.0, vacuum: 0.0, rises: 0.0,
    spilt: 0.0, open: false, turned: null, overrun: 0.0, alarm: null, on: {}, happened: [],
  };
}

export function step(state) {
  const before = interrupted(state);
  const half = moved(before, before, rates(before), 0.5 * STEP);
  const rate = rates(half);
  const after = shown(solidsAfter(below(moved(before, half, rate, STEP)), rate), rate);
  return noticed({ ...after, steps: state.steps + 1 });
}

function interrupted(state) {
  for (const { at, what } of state.setup.happens) {
    if (Math.floor(at * STEPS_A_SECOND + 0.5) === state.steps) {
      state = told(state, what, {});
      if (what === "alarm") state = { ...state, alarm: state.steps };
    }
  }
  return state;
}

function below(state) {
  const [setup, way, drawn] = [state.setup, wayOut(state), state.drawn];
  if (way !== "hose") {
    return {
      ...state, flow: 0.0, jet: volumeOf(drawn) / STEP, floor: added(state.floor, drawn), spilt: 0.0,
    };
  }
  const [between, lower] = passed(setup.between_holds, state.between, drawn);
  const [glass, beyond] = passed(setup.glass_holds, state.glass, lower);
  const [pipe, out] = passed(setup.hose_holds, state.pipe, beyond);
  const movedOn = { ...state, between, glass, pipe, flow: volumeOf(drawn) / STEP, jet: 0.0, spilt: 0.0 };
  if (state.hose === "drain") return { ...movedOn, drain: added(state.drain, out) };
  if (state.hose === "loose") return { ...movedOn, floor: added(state.floor, out) };
  const [bucket, over] = passed(setup.bucket_holds, state.bucket, out);
  return { ...movedOn, bucket, floor: added(state.floor, over), spilt: volumeOf(over) / STEP };
}

function solidsAfter(state, rate) {
  const setup = state.setup;
  const core = coreAfter(state.core, rate.speed, setup.follows, STEP);
  if (state.plugged) return { ...state, core, plugged: state.steps < state.plug_ends };
  const rests = state.steps < state.plug_ends + PLUG_OPENS * STEPS_A_SECOND && state.plug_ends > 0;
  const solids = wayOut(state) === "hose" && !rests ? state.drawn[SOLIDS] : 0.0;
  const [chance, begins] = plugBegins(state.chance, solids, setup.plugs);
  if (!begins) return { ...state, core, chance };
  const [next, lasts] = plugLasts(chance, setup.lets_go);
  const ends = state.steps + Math.floor(lasts * STEPS_A_SECOND);
  return { ...state, core, chance: next, plugged: true, plug_ends: ends };
}

function shown(state, rate) {
  const [setup, over, way] = [state.setup, overpressureOf(state), wayOut(state)];
  const [gauge, band] = [pressureOf(state) - setup.air_pressure, setup.gauge_band];
  const coefficient = way === "tank-side" || way === "outer" ? jetCoefficient(state, way) : 0.0;
  const push = 2.0 * coefficient * coefficient * Math.max(0.0, over) * boreArea(setup.bore);
  const isBeer = state.turned !== null && way === "hose";
  return {
    ...state, gauge, needle: Math.min(Math.max(state.needle, gauge - band), gauge + band),
    trapped: trapped(state, Math.max(0.0, over)), speed: rate.speed,
    overrun: state.overrun + (isBeer ? state.drawn[BEER] : 0.0),
    jet_push: push, hiss: Math.max(0.0, rate.supply), relief: reliefLift(state, gauge),
    vacuum: vacuumLift(state, gauge), rises: lifted(state, gauge),
  };
}

function trapped(state, over) {
  const setup = state.setup;
  if (state.tank_side === "open" || state.outer === "open" || state.bleed) return 0.0;
  if (state.isolation > 0.0) return over;
  if (state.outer === "stack" && state.flow_valve > 0.0 && !state.packed) return 0.0;
  if (setup.leak > 0.0) return over + (state.trapped - over) * Math.exp(-STEP / SEEPS);
  return state.trapped + setup.trapped_yeast * shareOf(state.between, SOLIDS) * STEP;
}
