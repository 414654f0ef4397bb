/** What a purge tells: the volume by every way it was measured, one best value, and what that volume was. */

import { calculators } from "../calculators/declarations.js";
import { calculatorModule, reckon } from "../calculators/reckon.js";
import { agree, inverseVarianceMean } from "../physics/combine.js";
import { offered, readQuantity } from "../quantities/text.js";
import { runTimes } from "./machine.js";
import { readings as declaredReadings, sums } from "./table.js";

/**
 * @typedef {{value: number, uncertainty: number|null}} Amount in SI
 * @typedef {{ways: Object<string, Amount>, agree: boolean|null, result: Object<string, Amount>}} Told
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
 * @param {object} body of a purge entry
 * @param {number|null} usualOverrun m3, the median of this tank's past purges
 * @param {string} system
 * @returns {Promise<Told>}
 */
export async function whatItTold(body, usualOverrun, system) {
  const { run, overrun } = runTimes(body.events);
  const texts = { ...body.readings };
  if (run !== null) Object.assign(texts, { run_time: `${run} s`, overrun_time: `${overrun} s` });
  if (usualOverrun !== null) texts.usual_overrun = inLitres(usualOverrun);
  const ways = await volumes(body, texts, system);
  if (!Object.keys(ways).length) return { ways, agree: null, result: {} };
  const found = Object.values(ways);
  const [value, uncertainty] = inverseVarianceMean(found.map((way) => way.value), found.map((way) => way.uncertainty));
  texts.volume_lost = `${inLitres(value)} ± ${inLitres(uncertainty)}`;
  const split = (await workOut("split", texts, system)).results;
  const result = { volume_lost: { value, uncertainty }, ...amounts(split) };
  result.top_up_mass = await topUp(texts, value, system);
  return {
    ways,
    agree: found.length > 1 ? agree(found.map((way) => way.value), found.map((way) => way.uncertainty)) : null,
    result: withoutEmpty(result),
  };
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
  return found && found.uncertainty ? { value: found.value, uncertainty: found.uncertainty } : null;
}

function bucket(text, system) {
  const [calculator, field] = declaredReadings.collected_volume;
  const { kind, relative } = calculators[calculator].fields[field];
  const { si, uncertainty } = readQuantity(text, kind, offered(kind, system)[0]);
  return { value: si, uncertainty: uncertainty || relative * si };
}

/** The CO2 that brings the tank, its headspace grown by what left, back to the pressure wanted. */
async function topUp(texts, volumeLost, system) {
  if (!texts.headspace || !texts.pressure_after) return null;
  const kind = calculators["purge-volume"].fields.headspace.kind;
  const headspace = readQuantity(texts.headspace, kind, offered(kind, system)[0]).si;
  const grown = { ...texts, headspace_after: inLitres(headspace + volumeLost) };
  return amounts((await workOut("top_up_last", grown, system)).results).co2_mass ?? null;
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
  return `${(si * 1000).toPrecision(12)} L`;
}

/** The middle value, null of none. */
export function median(values) {
  if (!values.length) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}
