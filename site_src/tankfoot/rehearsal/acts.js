/** What a hand does to the tank: one row of a table an act, done at once. Twin of acts.py. */

import { CO2_MOLAR_MASS, GAS_CONSTANT } from "../physics/gas.js";
import { forceOnCap } from "../physics/outflow.js";
import { cannot, told } from "./events.js";
import { NOTHING, SOLIDS, added, drawnOf, taken, volumeOf } from "./liquids.js";
import { pressureOf } from "./moves.js";
import { solidsShare } from "./solids.js";
import { wayOut } from "./way_out.js";

const HELD = 50.0;
const BREATH = 2000.0;
export const NUMBERS = { "isolation": 1.0, "flow-valve": 1.0, "vent": 1.0, "blow-off": 1.0, "regulator": 3e5 };
export const CHOICES = {
  "gas": [true, false], "pipe-end": ["in", "clear"], "hose": ["bucket", "drain", "loose"], "bucket": ["emptied"],
  "outer": ["open", "stack", "cap"], "tank-side": ["open", "closed"], "bleed": [true, false], "connector": ["gas"],
  "glass": ["cleared"], "gauge": ["tapped"], "away": [true, false],
};

export function isAct(name, to) {
  if (Object.hasOwn(NUMBERS, name)) return typeof to === "number" && to >= 0.0 && to <= NUMBERS[name];
  return Object.hasOwn(CHOICES, name) && CHOICES[name].includes(to);
}

/** @param {{act: string, to: any}} row @throws {RangeError} for a row that is no act */
export function act(state, row) {
  const { act: name, to } = row;
  if (!isAct(name, to)) {
    const known = [...Object.keys(NUMBERS), ...Object.keys(CHOICES)].join(", ");
    throw new RangeError(`${name} to ${to} is no act: use one of ${known}, and where it can go`);
  }
  return Object.hasOwn(DOES, name) ? DOES[name](state, to) : { ...state, [name.replaceAll("-", "_")]: to };
}

function isolation(state, to) {
  const turned = { ...state, isolation: to };
  const opens = state.isolation <= 0.0 && to > 0.0 && state.outer !== "open" && !state.plugged;
  return opens && wayOut(turned) === null ? rises(turned) : turned;
}

function rises(state) {
  const setup = state.setup;
  const pocket = setup.between_holds - volumeOf(state.between);
  if (pocket <= 0.0 || volumeOf(state.tank) < 2.0 * pocket) return state;
  const absolute = setup.air_pressure + state.trapped;
  const amount = absolute * pocket / (GAS_CONSTANT * setup.temperature);
  const solids = solidsShare(state.core, state.tank[SOLIDS], setup.solids_at_first);
  const drawn = drawnOf(state.tank, pocket, solids);
  const risen = { ...state, tank: taken(state.tank, drawn), between: added(state.between, drawn) };
  if (state.connector === "gas") {
    const co2 = amount * CO2_MOLAR_MASS;
    return { ...risen, co2: risen.co2 + co2, co2_supplied: risen.co2_supplied + co2 };
  }
  const mixed = { ...risen, air: risen.air + amount, air_in: risen.air_in + amount };
  return told(mixed, "air-into-tank", { volume: pocket * absolute / setup.air_pressure });
}

function outer(state, to) {
  if (to === state.outer) return state;
  if (to === "open") return opened(state);
  if (state.outer !== "open") return cannot(state, "outer-closed");
  if (wayOut(state) === "outer" && state.jet_push > HELD) return cannot(state, "jet");
  return { ...state, outer: to, connector: "air", glass: NOTHING, pipe: NOTHING };
}

function opened(state) {
  const [setup, falls] = [state.setup, added(added(state.between, state.glass), state.pipe)];
  const place = state.hose === "drain" ? "drain" : "floor";
  const off = {
    ...state, outer: "open", between: NOTHING, glass: NOTHING, pipe: NOTHING, trapped: 0.0,
    connector: "air", [place]: added(state[place], falls),
  };
  if (state.isolation <= 0.0 && state.trapped > BREATH) {
    const push = forceOnCap(state.trapped, setup.bore);
    return told(off, "trapped-let-go", { pressure: state.trapped, push });
  }
  return off;
}

function tankSide(state, to) {
  if (to === "closed" && state.tank_side === "open" && state.jet_push > HELD) return cannot(state, "jet");
  return { ...state, tank_side: to };
}

function bleed(state, to) {
  if (to && state.isolation > 0.0) return cannot(state, "isolation-open");
  const bled = { ...state, bleed: to };
  if (to && state.trapped > BREATH) return told({ ...bled, trapped: 0.0 }, "bled", { pressure: state.trapped });
  return bled;
}

function connector(state) {
  if (state.outer === "open") return cannot(state, "nothing-hangs");
  if (state.isolation > 0.0) return cannot(state, "isolation-open");
  return { ...state, connector: "gas" };
}

function glass(state) {
  if (state.outer !== "open") return cannot(state, "stack-hangs");
  return { ...state, packed: false };
}

function blowOff(state, to) {
  const turned = { ...state, blow_off: to };
  return state.setup.blow_lift > 0.0 ? turned : cannot(state, "no-pipe");
}

function bucket(state) {
  return { ...state, bucket: NOTHING, drain: added(state.drain, state.bucket) };
}

function gauge(state) {
  const stands = pressureOf(state) - state.setup.air_pressure;
  const tapped = { ...state, needle: stands };
  if (Math.abs(stands - state.needle) > BREATH) {
    return told(tapped, "needle-jumped", { before: state.needle, after: stands });
  }
  return tapped;
}

const DOES = {
  "isolation": isolation, "blow-off": blowOff, "bucket": bucket, "outer": outer, "tank-side": tankSide,
  "bleed": bleed, "connector": connector, "glass": glass, "gauge": gauge,
};
