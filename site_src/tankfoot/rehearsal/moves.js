/** How tank and headspace move in a short time: liquid out, gas in and out, heat. Twin of moves.py. */

import { liftPressure } from "../physics/fermentation.js";
import { CO2_MOLAR_MASS, GAS_CONSTANT } from "../physics/gas.js";
import { SHORT_TUBE_COEFFICIENT, boreArea, exitSpeed, portOverpressure } from "../physics/outflow.js";
import { AIR_MOLAR_MASS, airDensity, exchange, expansionPressure, gasPressure, heatCapacity } from "./gas_space.js";
import { SOLIDS, WATER, drawnOf, taken, volumeOf } from "./liquids.js";
import { solidsShare } from "./solids.js";
import { gasCoefficient, glugFlow, jetCoefficient, liquidLevel, portSpeed, wayOut } from "./way_out.js";

const WARMS = 45.0;
const WET = 2.0;
const DROOP = 1e4;
const [RELIEF_BORE, VENT_BORE, PIPE_BORE, VACUUM_BORE] = [0.02, 0.02, 0.025, 0.05];
const LIFTS_WITHIN = 0.1;
const VACUUM_WITHIN = 500.0;

export function pressureOf(state) {
  return gasPressure(state.co2, state.air, headspaceOf(state), state.gas_temperature);
}

export function headspaceOf(state) {
  return state.setup.total - volumeOf(state.tank);
}

export function overpressureOf(state) {
  const setup = state.setup;
  const level = liquidLevel(setup, volumeOf(state.tank));
  return portOverpressure(pressureOf(state) - setup.air_pressure, level, setup.density);
}

export function wetnessOf(state) {
  return Math.min(1.0, volumeOf(state.tank) / (boreArea(state.setup.bore) * WET));
}

export function rates(state) {
  const [setup, absolute, over] = [state.setup, pressureOf(state), overpressureOf(state)];
  const [outside, way, wet] = [setup.air_pressure, wayOut(state), wetnessOf(state)];
  const share = solidsShare(state.core, state.tank[SOLIDS], setup.solids_at_first);
  const speed = way ? portSpeed(state, way, over, share) * wet : 0.0;
  const isJet = way === "tank-side" || way === "outer";
  const glug = isJet ? glugFlow(setup.bore, over) * jetCoefficient(state, way) * wet : 0.0;
  const density = (state.co2 + state.air * AIR_MOLAR_MASS) / headspaceOf(state);
  const through = (bore, against) => {
    const coming = absolute > against ? density : airDensity(against, setup.room_temperature);
    return exchange(absolute, against, coming, bore);
  };
  const widens = way ? gasCoefficient(state, way) / SHORT_TUBE_COEFFICIENT : 0.0;
  const port = widens * (1.0 - wet) * through(setup.bore, outside);
  const [water, pipe] = ofPipe(state, absolute, through);
  return {
    liquid: boreArea(setup.bore) * speed, glug, speed, share,
    supply: supply(state, absolute - outside), made: setup.made,
    vent: through(VENT_BORE, outside) * state.vent,
    port, pipe, water,
    relief: reliefLift(state, absolute - outside) * Math.max(0.0, through(RELIEF_BORE, outside)),
    vacuum: vacuumLift(state, absolute - outside) * Math.min(0.0, through(VACUUM_BORE, outside)),
    glug_air: glug * airDensity(outside, setup.room_temperature),
  };
}

export function supply(state, gauge) {
  if (!state.gas) return 0.0;
  return state.setup.max_flow * Math.min(1.0, Math.max(0.0, (state.regulator - gauge) / DROOP));
}

export function reliefLift(state, gauge) {
  const plate = state.setup.plate;
  if (state.setup.relief_sticks) return 0.0;
  return Math.min(1.0, Math.max(0.0, (gauge - plate) / (LIFTS_WITHIN * plate)));
}

export function vacuumLift(state, gauge) {
  const opens = state.setup.vacuum_valve;
  return opens === null ? 0.0 : Math.min(1.0, Math.max(0.0, (-opens - gauge) / VACUUM_WITHIN));
}

export function lifted(state, gauge) {
  if (state.blow_off <= 0.0 || state.pipe_end === "clear") return 0.0;
  return Math.max(0.0, -gauge) / liftPressure(1.0, state.setup.density);
}

function ofPipe(state, absolute, through) {
  const setup = state.setup;
  if (state.blow_off <= 0.0) return [0.0, 0.0];
  const outside = setup.air_pressure;
  const pushes = outside + liftPressure(setup.blow_dip, setup.density);
  if (state.pipe_end === "clear" || state.blow_bucket <= 0.0) {
    return [0.0, state.blow_off * through(PIPE_BORE, outside)];
  }
  if (absolute > pushes) return [0.0, state.blow_off * through(PIPE_BORE, pushes)];
  const missing = outside - liftPressure(setup.blow_lift, setup.density) - absolute;
  if (missing <= 0.0) return [0.0, 0.0];
  return [state.blow_off * boreArea(PIPE_BORE) * exitSpeed(missing, setup.density), 0.0];
}

export function moved(state, at, rate, seconds) {
  const [setup, temperature, outside] = [state.setup, state.gas_temperature, state.setup.air_pressure];
  const water = Math.min(rate.water * seconds, state.blow_bucket, untilRest(state, setup.blow_lift, -1.0));
  const draw = Math.min(rate.liquid * seconds, untilRest(state, null, 1.0)) + rate.glug * seconds;
  const drawn = drawnOf(state.tank, draw, rate.share);
  const tank = taken(state.tank, drawn);
  tank[WATER] += water;
  const headspace = setup.total - volumeOf(tank);
  const made = rate.made * seconds;
  const grown = gasPressure(state.co2 + made, state.air, headspace, temperature);
  const toSet = (state.regulator + outside - grown) * headspace * CO2_MOLAR_MASS / (GAS_CONSTANT * temperature);
  const supplied = Math.min(rate.supply * seconds, Math.max(0.0, toSet));
  const filled = gasPressure(state.co2 + made + supplied, state.air, headspace, temperature);
  const leaves = leaving(state, rate, seconds, filled);
  const enters = entering(state, rate, seconds, [headspace, filled]);
  const [co2, air] = [state.co2 + made + supplied, state.air];
  const [lost, airLost] = [co2 * leaves, air * leaves];
  const out = lost / CO2_MOLAR_MASS + airLost;
  const capacity = heatCapacity(at.co2, at.air, at.gas_temperature);
  const perMole = capacity / (at.co2 / CO2_MOLAR_MASS + at.air);
  const brings = (moles, itsTemperature) =>
    moles * (perMole * (itsTemperature - at.gas_temperature) + GAS_CONSTANT * itsTemperature);
  const work = expansionPressure(pressureOf(at), at.gas_temperature) * (headspace - headspaceOf(state));
  const heat = brings(supplied / CO2_MOLAR_MASS + enters, setup.room_temperature)
    + brings(made / CO2_MOLAR_MASS, setup.temperature) - out * GAS_CONSTANT * at.gas_temperature - work;
  const warmed = (setup.temperature - at.gas_temperature) / WARMS * seconds;
  return {
    ...state, tank, drawn, co2: co2 - lost, air: air - airLost + enters,
    gas_temperature: temperature + heat / capacity + warmed, blow_bucket: state.blow_bucket - water,
    co2_made: state.co2_made + made, co2_supplied: state.co2_supplied + supplied,
    co2_lost: state.co2_lost + lost, air_in: state.air_in + enters,
    air_lost: state.air_lost + airLost,
  };
}

function untilRest(state, lift, sign) {
  const setup = state.setup;
  const height = lift === null ? liquidLevel(setup, volumeOf(state.tank)) : lift;
  const rest = setup.air_pressure - liftPressure(height, setup.density);
  if (rest <= 0.0) return Infinity;
  return Math.max(0.0, sign * headspaceOf(state) * (pressureOf(state) / rest - 1.0));
}

function leaving(state, rate, seconds, absolute) {
  const setup = state.setup;
  const [outside, dip] = [setup.air_pressure, liftPressure(setup.blow_dip, setup.density)];
  const against = { vent: outside, port: outside, pipe: outside + dip, relief: outside + setup.plate };
  const goes = Object.keys(against).filter((name) => rate[name] > 0.0);
  if (!goes.length) return 0.0;
  const mass = goes.reduce((sum, name) => sum + rate[name], 0) * seconds;
  const most = Math.max(0.0, 1.0 - Math.min(...goes.map((name) => against[name])) / absolute);
  return Math.min(mass / (state.co2 + state.air * AIR_MOLAR_MASS), most);
}

function entering(state, rate, seconds, [headspace, absolute]) {
  const [outside, opens] = [state.setup.air_pressure, state.setup.vacuum_valve ?? 0.0];
  const rest = { vent: outside, port: outside, pipe: outside, vacuum: outside - opens };
  const comes = Object.keys(rest).filter((name) => rate[name] < 0.0);
  const glug = rate.glug_air * seconds / AIR_MOLAR_MASS;
  if (!comes.length) return glug;
  const amount = -comes.reduce((sum, name) => sum + rate[name], 0) * seconds / AIR_MOLAR_MASS;
  const most = (Math.max(...comes.map((name) => rest[name])) - absolute) * headspace
    / (GAS_CONSTANT * state.gas_temperature);
  return glug + Math.min(amount, Math.max(0.0, most));
}
