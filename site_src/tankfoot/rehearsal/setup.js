/** What stays as it is through a rehearsal: the tank's own numbers, what hangs under it. Twin of setup.py. */

import { WATER_DENSITY, co2Made } from "../physics/fermentation.js";
import { boreArea } from "../physics/outflow.js";
import { coneVolume, crossSection, headVolume } from "../physics/vessel.js";
import { lastPressure } from "../tanks/gas.js";
import { tankShape } from "../tanks/shape.js";

const [BETWEEN, GLASS] = [0.25, 0.2];
const PLATE = 1e5;
const HOLDS = { pressure: [-2e4, 2.5e5], temperature: [265.0, 310.0], bore: [0.01, 0.2], diameter: [0.2, 20.0] };
const LEAST_HEADSPACE = 0.03;

export function setupOf(scenario) {
  const { tank, solids, blow_off: blow } = scenario;
  const shape = tankShape(tank);
  const inCone = coneVolume(tank.diameter, shape.cone);
  const area = boreArea(tank.bore);
  const gravity = scenario.density / WATER_DENSITY;
  const ownHead = headVolume(tank.diameter, tank.head_depth);
  return {
    air_pressure: scenario.air_pressure, temperature: tank.temperature,
    room_temperature: scenario.room_temperature, density: scenario.density,
    viscosity: scenario.viscosity,
    cone: shape.cone, in_cone: inCone, across: crossSection(tank.diameter),
    below_head: shape.total - shape.head, head: shape.head, total: shape.total,
    head_depth: ownHead > 0.0 ? tank.head_depth : 0.0,
    bore: tank.bore, plate: tank.rated_pressure || PLATE,
    kind: solids.kind, solids_viscosity: solids.viscosity, follows: solids.follows,
    plugs: solids.plugs, lets_go: solids.lets_go,
    solids_at_first: solids.share * inCone, beer_at_first: tank.beer_volume - solids.share * inCone,
    between_holds: area * BETWEEN, glass_holds: area * GLASS,
    hose_bore: tank.bore, hose_length: scenario.hose_length,
    hose_holds: area * scenario.hose_length, bucket_holds: scenario.bucket_holds,
    leak: scenario.leak, relief_sticks: scenario.relief_sticks,
    vacuum_valve: scenario.vacuum_valve, gauge_band: scenario.gauge_band,
    max_flow: scenario.max_flow, trapped_yeast: scenario.trapped_yeast, late: scenario.late,
    made: co2Made(tank.beer_volume, gravity, scenario.fall),
    blow_dip: blow.dip, blow_lift: blow.lift, blow_water: blow.water,
    happens: scenario.happens,
  };
}

export function ownTank(scenario, body, airPressure) {
  const known = Object.fromEntries(
    Object.entries(body).filter(([name, value]) => Object.hasOwn(scenario.tank, name) && value !== null),
  );
  const pressure = lastPressure(body) ?? scenario.tank.pressure;
  const tank = { ...scenario.tank, head_volume: null, ...known, pressure };
  const made = { ...scenario, tank, air_pressure: airPressure };
  return canBe(made) ? made : null;
}

export function canBe(scenario) {
  const [tank, shape] = [scenario.tank, tankShape(scenario.tank)];
  if (!Object.entries(HOLDS).every(([name, [low, high]]) => low <= tank[name] && tank[name] <= high)) return false;
  const solids = scenario.solids.share * coneVolume(tank.diameter, shape.cone);
  const room = shape.headspace - scenario.blow_off.water;
  return Number.isFinite(room) && room >= LEAST_HEADSPACE && tank.beer_volume >= 2.0 * solids + LEAST_HEADSPACE;
}
