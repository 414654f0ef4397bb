/** What a tank's gauge tells in time: leak against its own past, floor, top-up. Twin of gauge.py, which has the limits. */

import { compute as topUpCompute, refusals as topUpRefusals } from "../calculators/co2_top_up.js";
import { calculators } from "../calculators/declared.js";
import { compute as leakCompute } from "../calculators/leak_down.js";
import { co2Density } from "../physics/gas.js";
import { pressureAtDensity } from "../physics/headspace.js";
import { co2InBeer } from "../physics/solubility.js";
import { propagate, withinReach } from "../quantities/propagate.js";
import { offered, readQuantity } from "../quantities/text.js";
import { endOf } from "../tanks/due.js";
import { median } from "../usual/median.js";
import { events as kinds } from "./declared.js";

const SHORTEST = 3600.0;
const FEWEST_BEFORE = 3;
const FEW = 7;
const COVERAGE = 2.0;
const NORMAL_MAD = 1.4826;
const UNREAD_TEMPERATURE = 3.0;
const BEER_FACTOR = 0.955;
const TYPED = { pressure: "gauge_pressure", temperature: "temperature", topped_up: "gauge_pressure" };

/**
 * @typedef {{id: string, at: string, pressure: number|null, temperature: number, topped_up: number|null}} Point in SI, and
 *   of each `_doubt`, null where nobody typed one
 * @typedef {{headspace: number, beer: number, air_pressure: number, floor: number|null}} Vessel
 * @typedef {{value: number, uncertainty: number}} Amount
 */

/** @param {any[]} readings entries @param {number} temperature the tank's own, K @returns {any[]} points, in time */
export function pointsOf(readings, temperature, system) {
  const key = ({ id, body }) => body.at + id;
  const there = readings.filter(({ deleted }) => !deleted).sort((a, b) => (key(a) < key(b) ? -1 : 1));
  let last = temperature;
  const points = there.map(({ id, body }) => {
    /** @type {Object<string, any>} */
    const point = { id, at: body.at };
    for (const [name, kind] of Object.entries(TYPED)) {
      [point[name], point[`${name}_doubt`]] = typed(body[name], kind, system);
    }
    if (point.temperature === null) Object.assign(point, { temperature: last, temperature_doubt: UNREAD_TEMPERATURE });
    last = point.temperature;
    return point;
  });
  return points.filter(({ pressure, topped_up: after }) => pressure !== null || after !== null);
}

function typed(text, kind, system) {
  if (text === null) return [null, null];
  const { si, uncertainty } = readQuantity(text, kind, offered(kind, system)[0]);
  return [si, uncertainty];
}

/** Instants across which a change of pressure is no leak. @param {any[]} purges @param {any[]} events @returns {string[]} */
export function breaksOf(purges, events) {
  const went = ({ deleted, body }) => !deleted && (kinds[body.event].amount || kinds[body.event].empties);
  return [
    ...purges.filter(({ deleted }) => !deleted).flatMap((purge) => [purge.created, endOf(purge)]),
    ...events.filter(went).map(({ body }) => body.at),
  ].sort();
}

/**
 * What was lost between each two points that nothing breaks, kg/s.
 *
 * @param {any[]} points @param {string[]} breaks @param {Vessel} vessel
 * @returns {{since: string, until: string, rate: number, uncertainty: number}[]}
 */
export function intervalsOf(points, breaks, vessel) {
  return points.slice(1).flatMap((next, place) => {
    const one = points[place];
    const told = breaks.some((at) => one.at < at && at <= next.at) ? null : toldBetween(one, next, vessel);
    return told === null ? [] : [{ since: one.at, until: next.at, ...told.rate }];
  });
}

function toldBetween(one, next, vessel) {
  const start = one.topped_up === null ? "pressure" : "topped_up";
  const inputs = {
    headspace: vessel.headspace, pressure_before: one[start], pressure_after: next.pressure,
    temperature_before: one.temperature, temperature_after: next.temperature,
    elapsed: (Date.parse(next.at) - Date.parse(one.at)) / 1000.0, topped_up: next.topped_up,
  };
  if (!(inputs.elapsed >= SHORTEST) || !isWithin("leak-down", inputs)) return null;
  const given = {
    pressure_before: one[`${start}_doubt`], pressure_after: next.pressure_doubt,
    temperature_before: one.temperature_doubt, temperature_after: next.temperature_doubt,
    topped_up: next.topped_up_doubt,
  };
  const compute = (x) => leak(x, vessel);
  const values = withinReach(compute, inputs);
  if (values === null) return null;
  const spreads = propagate(compute, inputs, doubts("leak-down", inputs, given));
  const beer = beerGives(one, next, vessel) / inputs.elapsed;
  const { rate, to_floor: left } = values;
  const uncertainty = both(spreads.rate ?? 0.0, beer);
  const toFloor = left !== null && rate > uncertainty
    ? { value: left, uncertainty: both(spreads.to_floor ?? 0.0, left * beer / rate) }
    : null;
  return { rate: { rate, uncertainty }, to_floor: toFloor };
}

function leak(x, { air_pressure: air, floor }) {
  const { leak_rate: rate } = leakCompute({ ...x, air_pressure: air, floor_pressure: null });
  const now = x.topped_up ?? x.pressure_after;
  if (floor === null || now <= floor || rate <= 0.0) return { rate, to_floor: null };
  const above = co2Density(now + air, x.temperature_after) - co2Density(floor + air, x.temperature_after);
  return { rate, to_floor: x.headspace * above / rate };
}

function beerGives(one, next, vessel) {
  const pressure = next.pressure + vessel.air_pressure;
  const [before, after] = [one, next].map(({ temperature }) => co2InBeer(pressure, temperature, BEER_FACTOR));
  return vessel.beer * Math.abs(before - after);
}

function isWithin(sum, inputs) {
  const { fields } = calculators[sum];
  return Object.entries(inputs).filter(([name]) => Object.hasOwn(fields, name)).every(([name, value]) => (
    value !== null && fields[name].low <= value && value <= fields[name].high
  ));
}

function doubts(sum, inputs, given) {
  const { fields } = calculators[sum];
  const found = {};
  for (const [name, value] of Object.entries(inputs)) {
    if (value === null) continue;
    const { relative, absolute } = fields[name === "topped_up" ? "pressure_after" : name];
    const doubt = given[name] ?? (relative === null ? absolute : Math.abs(value) * relative);
    if (doubt !== null) found[name] = doubt;
  }
  return found;
}

function both(one, other) {
  return Math.sqrt(one * one + other * other);
}

/**
 * What the latest of the points tells, with those before it.
 *
 * @param {any[]} points @param {string[]} breaks @param {Vessel} vessel
 * @returns {{rate: Amount|null, usual: number|null, count: number, limit: number|null, faster: boolean|null,
 *   to_floor: Amount|null}}
 */
export function toldBy(points, breaks, vessel) {
  const intervals = intervalsOf(points, breaks, vessel);
  const isLatest = intervals.length > 0 && intervals.at(-1).until === points.at(-1).at;
  const latest = isLatest ? intervals.at(-1) : null;
  const past = isLatest ? intervals.slice(0, -1) : intervals;
  const rates = past.map(({ rate }) => rate);
  const usual = median(rates);
  if (latest === null) return { rate: null, usual, count: past.length, limit: null, faster: null, to_floor: null };
  const { rate: value, uncertainty } = latest;
  /** @type {number|null} */
  let limit = null;
  if (past.length >= FEWEST_BEFORE) {
    const scatter = NORMAL_MAD * median(rates.map((rate) => Math.abs(rate - usual)));
    const spread = Math.max(scatter, median(past.map((interval) => interval.uncertainty)));
    limit = Math.max(0.0, usual) + COVERAGE * both(uncertainty, spread);
    if (past.length < FEW) limit = Math.max(limit, Math.max(...rates) + uncertainty);
  }
  const { to_floor: toFloor } = toldBetween(points.at(-2), points.at(-1), vessel);
  const faster = limit === null ? null : value > limit;
  return { rate: { value, uncertainty }, usual, count: past.length, limit, faster, to_floor: toFloor };
}

/**
 * CO2 from the last pressure of a point to the hold pressure of a tank; null where there is none to tell.
 *
 * @param {any} point @param {any} tank a body @returns {{value: number, uncertainty: number, share: number}|null}
 */
export function topUp(point, tank, headspace, airPressure, cylinder) {
  const now = point.topped_up === null ? "pressure" : "topped_up";
  const inputs = {
    headspace, pressure_before: point[now], pressure_after: tank.hold_pressure, temperature: point.temperature,
    air_pressure: airPressure,
  };
  if (!isWithin("co2-top-up", inputs)) return null;
  const whole = { rated_pressure: tank.rated_pressure, cylinder_mass: cylinder };
  if (topUpRefusals({ ...inputs, ...whole }).length) return null;
  const compute = (x) => ({ mass: topUpCompute({ ...x, ...whole }).co2_mass });
  const given = { pressure_before: point[`${now}_doubt`], temperature: point.temperature_doubt };
  const { mass } = compute(inputs);
  const spread = propagate(compute, inputs, doubts("co2-top-up", inputs, given)).mass;
  return mass <= spread ? null : { value: mass, uncertainty: spread, share: mass / cylinder };
}

/** What the gauge of a point would read were its gas at a temperature, Pa gauge. @returns {Amount|null} */
export function atOneTemperature(point, temperature, airPressure) {
  const inputs = { pressure_before: point.pressure, temperature_before: point.temperature };
  if (!isWithin("leak-down", { ...inputs, temperature_after: temperature })) return null;
  const compute = (x) => ({
    value: pressureAtDensity(co2Density(x.pressure_before + airPressure, x.temperature_before), temperature) - airPressure,
  });
  const given = { pressure_before: point.pressure_doubt, temperature_before: point.temperature_doubt };
  const { value: uncertainty } = propagate(compute, inputs, doubts("leak-down", inputs, given));
  return { value: compute(inputs).value, uncertainty: uncertainty ?? 0.0 };
}
