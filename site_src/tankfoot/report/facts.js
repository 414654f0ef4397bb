/** What a report takes of a purge: a few names and numbers, so that years of purges fit into a phone. Twin of facts.py. */

import { wasSetBack } from "../purge/clock.js";
import { inRun, timesOf } from "../purge/times.js";
import { OLD } from "../record/age.js";
import { exactSum } from "./exact.js";

const AMOUNTS = { // the amounts of a fact, and the results of a purge that they are
  volume_lost: "volume_lost", overrun: "overrun", solids: "solids", beer_in_solids: "beer_in_solids",
  co2_mass: "top_up_mass", beer_money: "money_lost",
};
export const COLUMNS = [
  "id", "at", "created", "demo", "tank", "tank_name", "kind", "batch", "tool", "assumed", "run", "past", "seconds",
  "watched", "tapped", "seen",
  ...Object.keys(AMOUNTS).flatMap((name) => [name, `${name}_doubt`]),
];
const ELSEWHERE = ["flow", "collected_mass", "collected_volume"]; // read with no gauge of the tank

/** @typedef {Object<string, any[]>} Facts columns: see facts.py */

/** The fact of a finished purge, an entry; `batch`: the id of what was in its tank. @returns {any} see facts.py */
export function factOf({ id, created, demo, body }, batch) {
  const { events, readings, result } = body;
  const { opened, run, past, change, tapped, seen } = timesOf(body);
  const isKnown = run !== null && !wasSetBack(run, past);
  const fact = {
    id, at: opened ?? created, created, demo, tank: body.tank, tank_name: body.tank_name, kind: body.solids, batch,
    tool: ELSEWHERE.some((name) => readings[name]) ? "" : body.tank ?? "",
    assumed: !readings.beer_share,
    run: isKnown ? run : null, past: isKnown && change !== null ? past : null, seconds: handsSeconds(events),
    watched: Boolean(body.watched), tapped: inRun(tapped, run), seen: inRun(seen, run),
  };
  for (const [name, told] of Object.entries(AMOUNTS)) {
    const amount = Object.hasOwn(result, told) ? result[told] : null;
    fact[name] = amount ? amount.value : null;
    fact[`${name}_doubt`] = amount ? amount.uncertainty : null;
  }
  return fact;
}

/** The seconds that a hand was at a purge: between its taps, but for pauses of half an hour and more; null of too few. */
export function handsSeconds(events) {
  if (events.length < 2) return null;
  const times = events.map(({ at }) => Date.parse(at));
  const pauses = times.slice(1).map((time, place) => (time - times[place]) / 1000.0);
  return exactSum(pauses.filter((pause) => pause > 0.0 && pause < OLD));
}

/** @param {Object<string, any>[]} facts @returns {Facts} all columns, also where there is no fact */
export function asColumns(facts) {
  return Object.fromEntries(COLUMNS.map((name) => [name, facts.map((fact) => fact[name])]));
}

/** Whether a value of a column was told. */
export function isTold(value) {
  return Number.isFinite(value);
}
