/** What is worth a word as it begins: a row a thing, when on, when over, its numbers. Twin of noticed.py. */

import { boreArea } from "../physics/outflow.js";
import { STEPS_A_SECOND, told } from "./events.js";
import { SOLIDS, shareOf, volumeOf } from "./liquids.js";
import { wetnessOf } from "./moves.js";
import { wayOut } from "./way_out.js";

const RUNS = 1e-5;
const STANDS = 1e4;
const [TURNED, BACK] = [0.5, 0.7];
const WHIPS = 20.0;
const LEFT = 0.3;
const LEAVES = 10.0;
const WIDE = 0.3;

export function noticed(given) {
  let state = closing(given);
  for (const [code, [on, over, facts]] of Object.entries(RULES)) {
    const isOn = Object.hasOwn(state.on, code);
    if (!isOn && on(state)) {
      state = told({ ...state, on: { ...state.on, [code]: true } }, code, facts(state));
      if (code === "colour-turned") state = { ...state, turned: state.steps };
    } else if (isOn && over(state)) {
      state = { ...state, on: without(state.on, code) };
      if (code === "colour-turned") state = { ...state, turned: null };
      if (code === "plug") state = letGo(state);
    }
  }
  return state;
}

export function isOpen(state) {
  const hangs = state.outer === "stack" && state.tank_side === "closed";
  return hangs && state.isolation > 0.0 && state.flow_valve > 0.0;
}

function without(on, code) {
  return Object.fromEntries(Object.entries(on).filter(([name]) => name !== code));
}

function closing(state) {
  const now = isOpen(state);
  if (now === state.open) return state;
  let changed = { ...state, open: now };
  if (now) return { ...changed, turned: null, overrun: 0.0, on: without(state.on, "colour-turned") };
  if (state.turned === null && !Object.hasOwn(state.on, "flowing")) return changed;
  if (state.turned !== null) {
    const seconds = (state.steps - state.turned) / STEPS_A_SECOND;
    const code = seconds > state.setup.late ? "closed-late" : "closed-in-time";
    changed = told(changed, code, { seconds, beer: state.overrun });
  }
  if (state.tank[SOLIDS] > LEFT * state.setup.solids_at_first) {
    const code = state.turned === null ? "closed-early" : "left-behind";
    return told(changed, code, { solids_left: state.tank[SOLIDS] });
  }
  return state.turned === null ? told(changed, "closed", {}) : changed;
}

function letGo(state) {
  if (state.flow_valve > WIDE && state.isolation > 0.0) return told(state, "burst", { flow_valve: state.flow_valve });
  return told(state, "plug-let-go", {});
}

export function hoseForce(state) {
  const setup = state.setup;
  return setup.density * state.flow * state.flow / boreArea(setup.hose_bore);
}

function turned(state) {
  const full = volumeOf(state.glass) > 0.9 * state.setup.glass_holds;
  return full && state.flow > RUNS && shareOf(state.glass, SOLIDS) < TURNED;
}

function pressure(state) {
  return { pressure: state.gauge };
}

function plate(state) {
  return { pressure: state.gauge, plate: state.setup.plate };
}

function shutIn(state) {
  return state.isolation <= 0.0 && state.trapped > STANDS;
}

/** @type {Record<string, [(s: any) => boolean, (s: any) => boolean, (s: any) => object]>} */
const RULES = {
  "flowing": [(s) => s.flow > RUNS, (s) => s.flow <= 0.0, (s) => ({ flow: s.flow })],
  "colour-turned": [turned, (s) => shareOf(s.glass, SOLIDS) > BACK, (s) => ({ solids_left: s.tank[SOLIDS] })],
  "cored": [
    (s) => s.flow > 0.0 && s.core > 0.5 && s.tank[SOLIDS] > 0.1 * s.setup.solids_at_first,
    (s) => s.core < 0.2, (s) => ({ speed: s.speed, solids_left: s.tank[SOLIDS] }),
  ],
  "gauge-below-zero": [(s) => s.gauge < -200.0, (s) => s.gauge > 500.0, pressure],
  "vacuum-valve-opened": [(s) => s.vacuum > 0.0, (s) => s.gauge > 0.0, pressure],
  "above-plate": [(s) => s.gauge > 1.01 * s.setup.plate, (s) => s.gauge < 0.99 * s.setup.plate, plate],
  "relief-lifted": [(s) => s.relief > 0.005, (s) => s.gauge < 0.99 * s.setup.plate, pressure],
  "relief-stuck": [
    (s) => s.setup.relief_sticks && s.gauge > 1.05 * s.setup.plate, (s) => s.gauge < s.setup.plate, plate,
  ],
  "trapped-pressure": [
    shutIn, (s) => s.trapped < 0.2 * STANDS || s.isolation > 0.0, (s) => ({ pressure: s.trapped }),
  ],
  "trapped-climbs": [
    (s) => shutIn(s) && s.trapped > s.setup.plate, (s) => s.trapped < 0.2 * STANDS,
    (s) => ({ pressure: s.trapped, plate: s.setup.plate }),
  ],
  "jet": [
    (s) => s.jet > 10.0 * RUNS, (s) => s.jet <= 0.0,
    (s) => ({ from: wayOut(s), flow: s.jet, push: s.jet_push, speed: s.speed }),
  ],
  "leak-seen": [
    (s) => s.isolation <= 0.0 && s.tank_side === "closed" && s.flow + s.jet > 0.0,
    (s) => s.isolation > 0.0 || s.flow + s.jet <= 0.0, (s) => ({ flow: s.flow + s.jet }),
  ],
  "tank-empty": [
    (s) => wetnessOf(s) < 0.1, (s) => wetnessOf(s) > 0.5, (s) => ({ beer: s.setup.beer_at_first - s.tank[0] }),
  ],
  "plug": [(s) => s.plugged, (s) => !s.plugged, (s) => ({ flow_valve: s.flow_valve })],
  "packed-glass": [(s) => s.packed && isOpen(s), (s) => !s.packed, (s) => ({ pressure: s.trapped })],
  "bucket-over": [(s) => s.spilt > RUNS, (s) => s.spilt <= 0.0, (s) => ({ flow: s.spilt })],
  "hose-whips": [
    (s) => s.hose === "loose" && hoseForce(s) > WHIPS, (s) => s.flow <= 0.0, (s) => ({ force: hoseForce(s) }),
  ],
  "liquid-rises": [
    (s) => s.rises > 0.5 * s.setup.blow_lift && s.blow_bucket > 0.0, (s) => s.rises < 0.1 * s.setup.blow_lift,
    (s) => ({ height: s.rises, lift: s.setup.blow_lift }),
  ],
  "sucked-back": [
    (s) => s.blow_bucket < 0.99 * s.setup.blow_water, () => false,
    (s) => ({ volume: s.setup.blow_water - s.blow_bucket }),
  ],
  "stayed": [
    (s) => s.alarm !== null && !s.away && s.steps - s.alarm > LEAVES * STEPS_A_SECOND,
    () => false, () => ({ seconds: LEAVES }),
  ],
  "unwatched": [(s) => s.away && s.flow + s.jet > RUNS, (s) => !s.away, (s) => ({ flow: s.flow + s.jet })],
};
