/** What a purge tells: the volume by every way it was measured, one best value, what that was. Twin of outcome.py. */

import { calculators } from "../calculators/declared.js";
import { calculatorModule, readField, reckon } from "../calculators/reckon.js";
import { agree, inverseVarianceMean } from "../physics/combine.js";
import { readings as declaredReadings, sums } from "./declared.js";
import { runTimes } from "./times.js";

const PARTS = { solids: true, beer_in_solids: true, overrun: false }; // whether it rests on the share of beer in the solids
const LEAST = 1e-9; // of a volume: a smaller ± counts as this, or the other ways would weigh nothing

/**
 * @typedef {{value: number, uncertainty: number|null}} Amount in SI
 * @typedef {{ways: Object<string, Amount>, agree: boolean|null, result: Object<string, Amount>}} PurgeOutcome
 */

/** Works out one sum of the purge table; its inputs are the purge's readings. */
export async function workOut(name, texts, system) {
  const { calculator, inputs } = sums[name];
  const given = Object.entries(inputs)
    .map(([input, reading]) => [input, texts[reading] ?? ""])
    .filter(([, text]) => text !== "");
  return reckon(calculator, await calculatorModule(calculator), Object.fromEntries(given), system);
}

/**
 * @param {any} body of a purge entry
 * @param {string} system of its bare numbers
 * @returns {Promise<PurgeOutcome>}
 */
export async function outcomeOf(body, system) {
  const [run, overrun] = runTimes(body);
  const texts = { ...body.readings };
  if (run !== null) Object.assign(texts, { run_time: `${run} s`, overrun_time: `${overrun} s` });
  const ways = await volumes(body, texts, system);
  if (!Object.keys(ways).length) return { ways, agree: null, result: {} };
  const values = Object.values(ways).map((way) => way.value);
  const uncertainties = Object.values(ways).map((way) => way.uncertainty);
  const [value, uncertainty] = inverseVarianceMean(values, uncertainties);
  texts.volume_lost = `${inLitres(value)} ± ${inLitres(uncertainty)}`;
  const split = (await workOut("split", texts, system)).results;
  /** @type {Object<string, Amount|null>} */
  const result = { volume_lost: { value, uncertainty }, ...amounts(split) };
  result.top_up_mass = await topUp(texts, value, system);
  return {
    ways,
    agree: values.length > 1 ? agree(values, uncertainties) : null,
    result: withoutEmpty(result),
  };
}

/**
 * What the volume of a purge's body was, in the order in which it left; none where nothing tells it apart. Solids and the
 * beer carried in them are `assumed` until somebody has let a sample settle and typed its share of beer.
 *
 * @param {any} body of a purge entry
 * @returns {{part: string, value: number, uncertainty: number|null, assumed: boolean}[]}
 */
export function partsOf({ readings, result }) {
  const isAssumed = !readings.beer_share;
  const told = Object.entries(PARTS).filter(([part]) => Object.hasOwn(result, part));
  return told.map(([part, restsOnShare]) => ({ part, ...result[part], assumed: restsOnShare && isAssumed }));
}

/** Every way that this purge was measured: {way: Amount}. Pressure counts only when the gas was shut. */
async function volumes(body, texts, system) {
  const ways = {};
  if (body.gas_shut && texts.pressure_after) ways.by_pressure = await lost("by_pressure", texts, system);
  if (texts.flow && texts.run_time) ways.by_time = await lost("by_time", texts, system);
  if (texts.collected_mass) ways.by_weight = await lost("by_weight", texts, system);
  if (texts.collected_volume) ways.by_bucket = bucket(texts.collected_volume, system);
  return withoutEmpty(ways);
}

async function lost(sum, texts, system) {
  const found = (await workOut(sum, texts, system)).results.volume_lost;
  return found && found.uncertainty ? measured(found.value, found.uncertainty) : null;
}

function bucket(text, system) {
  const [declared, { si, uncertainty }] = read("collected_volume", text, system);
  return measured(si, uncertainty || declared.relative * si);
}

function measured(value, uncertainty) {
  return { value, uncertainty: Math.max(uncertainty, LEAST * value) };
}

/** The CO2 that brings the tank, its headspace grown by what left, back to the pressure wanted. */
async function topUp(texts, volumeLost, system) {
  if (!texts.headspace || !texts.pressure_after) return null;
  const [, headspace] = read("headspace", texts.headspace, system);
  const grown = { ...texts, headspace_after: inLitres(headspace.si + volumeLost) };
  return amounts((await workOut("top_up_last", grown, system)).results).co2_mass ?? null;
}

/**
 * A reading's declared quantity, and its text read and held against the limits; throws RefusedText.
 *
 * @returns {[any, import("../quantities/text.js").Reading]}
 */
export function read(name, text, system) {
  const [calculator, like] = declaredReadings[name];
  const declared = calculators[calculator].fields[like];
  return [declared, readField(declared, text, system)];
}

function amounts(results) {
  return Object.fromEntries(Object.entries(results).map(([name, found]) => (
    [name, found && { value: found.value, uncertainty: found.uncertainty }]
  )));
}

function withoutEmpty(object) {
  return Object.fromEntries(Object.entries(object).filter(([, value]) => value));
}

/** As a text the sums can read; grammar and digits are those of both languages. */
export function inLitres(si) {
  return `${Number((si * 1000).toPrecision(12))} L`;
}
