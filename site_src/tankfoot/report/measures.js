/** What a report counts of each purge, and what each is off by. Twin of measures.py, which says what a part is. */

import { isTold } from "./facts.js";

/**
 * @typedef {import("./facts.js").Facts} Facts
 * @typedef {[number, number, number, number]} Part value, and what instruments, an assumption and readings are off by
 * @typedef {Object<string, {seconds: number}>} Baseline by kind of solids
 * @typedef {{beer_value: number|null, gas_price: number|null, wage: number|null}} Prices in SI
 */

const SECOND = 1.0; // s: what a tap is off by, as in the sum purge-split
const PAID = ["money_beer", "money_co2", "money_hand"]; // what "money" is made of
/** @type {Object<string, (facts: Facts, row: number, prices: Prices, baseline: Baseline) => Part|null>} */
const PART_OF = {
  volume_lost: whole("volume_lost"), overrun: ofVolume("overrun", false), solids: ofVolume("solids", true),
  beer_in_solids: ofVolume("beer_in_solids", true), co2_mass: whole("co2_mass"), seconds: hand,
  money, money_beer: beerMoney, money_overrun: worth("overrun"), money_co2: paid("co2_mass", "gas_price"),
  money_hand: paid("seconds", "wage"), saved, money_saved: worth("saved"),
};
export const MEASURES = Object.keys(PART_OF);

/** The parts of all purges for a measure; null where a purge does not tell it. @returns {(Part|null)[]} */
export function measured(facts, name, prices, baseline) {
  return facts.id.map((_, row) => PART_OF[name](facts, row, prices, baseline));
}

function whole(name) {
  return (facts, row) => part(facts[name][row], facts[`${name}_doubt`][row]);
}

/** @returns {Part|null} */
function part(value, doubt) {
  return isTold(value) ? [value, isTold(doubt) ? doubt : 0.0, 0.0, 0.0] : null;
}

function ofVolume(name, restsOnShare) {
  return (facts, row) => split(facts, facts[name][row], facts[`${name}_doubt`][row], restsOnShare, row);
}

/** Of a part of the volume: as much of its ± as the volume has is the instruments', the rest somebody else's. @returns {Part|null} */
function split(facts, value, doubt, restsOnShare, row) {
  if (!isTold(value)) return null;
  const all = isTold(doubt) ? doubt : 0.0;
  const tool = Math.min(Math.abs(value) * relative(facts, row), all);
  const rest = Math.sqrt(all * all - tool * tool);
  const isAssumed = restsOnShare && facts.assumed[row];
  return [value, tool, isAssumed ? rest : 0.0, isAssumed ? 0.0 : rest];
}

function relative(facts, row) {
  const [volume, doubt] = [facts.volume_lost[row], facts.volume_lost_doubt[row]];
  return isTold(volume) && isTold(doubt) && volume > 0.0 ? doubt / volume : 0.0;
}

/** @returns {Part|null} */
function hand(facts, row) {
  const seconds = facts.seconds[row];
  return isTold(seconds) ? [seconds, 0.0, 0.0, Math.sqrt(2.0) * SECOND] : null; // two taps
}

/** By so much less beer ran than if the port had been closed as late as in the baseline. @returns {Part|null} */
function saved(facts, row, prices, baseline) {
  const base = Object.hasOwn(baseline, facts.kind[row]) ? baseline[facts.kind[row]] : null;
  const [volume, run, past] = ["volume_lost", "run", "past"].map((name) => facts[name][row]);
  if (base === null || ![volume, run, past].every(isTold) || run <= 0.0) return null;
  const flow = volume / run;
  const value = (base.seconds - past) * flow;
  return [value, Math.abs(value) * relative(facts, row), 0.0, flow * SECOND];
}

/** What the purge's beer is worth, for each m³: by what it told itself, else as the basis says. */
function beerValue(facts, row, prices) {
  const [told, overrun, carried] = ["beer_money", "overrun", "beer_in_solids"].map((name) => facts[name][row]);
  return [told, overrun, carried].every(isTold) && overrun + carried > 0.0 ? told / (overrun + carried) : prices.beer_value;
}

function beerMoney(facts, row, prices, baseline) {
  const [told, doubt] = [facts.beer_money[row], facts.beer_money_doubt[row]];
  if (isTold(told)) return split(facts, told, doubt, true, row);
  const lost = together(["overrun", "beer_in_solids"].map((name) => PART_OF[name](facts, row, prices, baseline)));
  return times(lost, prices.beer_value);
}

/** What beer of that measure is worth. */
function worth(name) {
  return (facts, row, prices, baseline) => times(PART_OF[name](facts, row, prices, baseline), beerValue(facts, row, prices));
}

function paid(name, price) {
  return (facts, row, prices, baseline) => times(PART_OF[name](facts, row, prices, baseline), prices[price]);
}

function money(facts, row, prices, baseline) {
  return together(PAID.map((name) => PART_OF[name](facts, row, prices, baseline)));
}

/** @returns {Part|null} */
function times(part, price) {
  if (part === null || price === null) return null;
  const [value, tool, assumed, own] = part;
  return [value * price, Math.abs(tool * price), Math.abs(assumed * price), Math.abs(own * price)];
}

/** @param {(Part|null)[]} parts @returns {Part|null} */
function together(parts) {
  const told = parts.filter((part) => part !== null);
  if (!told.length) return null;
  let [value, tool, assumed, squares] = [0.0, 0.0, 0.0, 0.0];
  for (const part of told) {
    value += part[0];
    tool += part[1];
    assumed += part[2];
    squares += part[3] * part[3];
  }
  return [value, tool, assumed, Math.sqrt(squares)];
}
