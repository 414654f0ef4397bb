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
const HOSE_ENDS = ["bucket", "drain", "loose"];

/** @param {{act: string, to: any}} row @throws {RangeError} for a row that is no act */
export function act(state, row) {
  if (!Object.hasOwn(ACTS, row.act)) throw new RangeError(`${row.act} is no act: use ${Object.keys(ACTS)}`);
  return ACTS[row.act](state, row.to);
}

function share(name) {
  return (state, to) => {
    if (typeof to !== "number" || !(to >= 0.0 && to <= 1.0)) {
      throw new RangeError(`${name}: ${to} is no opening: use a number from 0 to 1`);
    }
    return { ...state, [name]: to };
  };
}

function choice(name, ...places) {
  return (state, to) => ({ ...state, [name]: oneOf(name, to, places) });
}

function oneOf(name, to, places) {
  if (!places.includes(to)) throw new RangeError(`${name}: ${to} is none of ${places}: use one of them`);
  return to;
}

function regulator(state, to) {
  if (typeof to !== "number" || !(to >= 0.0 && to <= 3e5)) {
    throw new RangeError(`regulator: ${to} is no pressure: use 0 to 300000 Pa`);
  }
  return { ...state, regulator: to };
}

function isolation(state, to) {
  const turned = share("isolation")(state, to);
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
  oneOf("outer", to, ["open", "stack", "cap"]);
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
  oneOf("tank-side", to, ["open", "closed"]);
  if (to === "closed" && state.tank_side === "open" && state.jet_push > HELD) return cannot(state, "jet");
  return { ...state, tank_side: to };
}

function bleed(state, to) {
  oneOf("bleed", to, [true, false]);
  if (to && state.isolation > 0.0) return cannot(state, "isolation-open");
  const bled = { ...state, bleed: to };
  if (to && state.trapped > BREATH) return told({ ...bled, trapped: 0.0 }, "bled", { pressure: state.trapped });
  return bled;
}

function connector(state, to) {
  oneOf("connector", to, ["gas"]);
  if (state.outer === "open") return cannot(state, "nothing-hangs");
  if (state.isolation > 0.0) return cannot(state, "isolation-open");
  return { ...state, connector: "gas" };
}

function glass(state, to) {
  oneOf("glass", to, ["cleared"]);
  if (state.outer !== "open") return cannot(state, "stack-hangs");
  return { ...state, packed: false };
}

function blowOff(state, to) {
  const turned = share("blow_off")(state, to);
  return state.setup.blow_lift > 0.0 ? turned : cannot(state, "no-pipe");
}

function bucket(state, to) {
  oneOf("bucket", to, ["emptied"]);
  return { ...state, bucket: NOTHING, drain: added(state.drain, state.bucket) };
}

function gauge(state, to) {
  oneOf("gauge", to, ["tapped"]);
  const stands = pressureOf(state) - state.setup.air_pressure;
  const tapped = { ...state, needle: stands };
  if (Math.abs(stands - state.needle) > BREATH) {
    return told(tapped, "needle-jumped", { before: state.needle, after: stands });
  }
  return tapped;
}

const ACTS = {
  "isolation": isolation,
  "flow-valve": share("flow_valve"),
  "gas": choice("gas", true, false),
  "regulator": regulator,
  "vent": share("vent"),
  "blow-off": blowOff,
  "pipe-end": choice("pipe_end", "in", "clear"),
  "hose": choice("hose", ...HOSE_ENDS),
  "bucket": bucket,
  "outer": outer,
  "tank-side": tankSide,
  "bleed": bleed,
  "connector": connector,
  "glass": glass,
  "gauge": gauge,
  "away": choice("away", true, false),
};
