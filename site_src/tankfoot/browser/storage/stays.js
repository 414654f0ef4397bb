/**
 * What is in the tanks and what was done to it. Of each tank only the batch that is in it now is read, whatever the
 * record holds besides.
 */

import { stayOf } from "../../batches/stay.js";
import { lifeIn } from "../../batches/life.js";
import { rulesOf } from "../../batches/rules.js";
import { openHolds } from "../../tanks/hold.js";
import { entriesUnder, getEach, ofKind } from "./record.js";
import { lastFinished } from "./rounds.js";

const DAY = 86_400_000; // ms
const RECENT = 120 * DAY; // longer than most batches stay: what is older is read only where that does not tell
const PUT_OFF = 60 * DAY; // nothing is put off for longer

/** @returns {Promise<Map<string, any>>} by the ids of `tanks`, entries: see stay.py */
export async function staysOf(tanks) {
  const holds = await ofKind("tank-hold");
  return new Map(await Promise.all(tanks.map(async (tank) => [tank.id, await readStay(tank, holds)])));
}

/** The rules that hold on this phone. */
export async function currentRules() {
  return rulesOf(await ofKind("due-rule"));
}

/** @param {Map<string, any>} stays @returns {Promise<Map<string, string>>} the names of the beers in the tanks, by batch */
export async function beersIn(stays) {
  const ids = [...new Set([...stays.values()].map(({ batch }) => batch).filter(Boolean))];
  return new Map((await getEach(ids)).filter((entry) => entry?.kind === "batch").map(({ id, body }) => [id, body.beer]));
}

/** @returns {Promise<any[]>} the events of the batch that is in a tank, or that were there lately, as they are stored */
export async function eventsOf(tank) {
  const recent = await entriesUnder("of-tank-at", ["batch-event", tank], ago(RECENT));
  const isTold = recent.length > 0 && lifeIn(recent).since !== null && isWhole(recent);
  return isTold ? recent : entriesUnder("of-tank-at", ["batch-event", tank]);
}

/** Whether the events begin with the one that brought the batch in, or took the last one out. */
function isWhole(events) {
  const { since } = lifeIn(events);
  return events.some(({ body }) => body.at < since) || ["filled", "moved-in"].includes(events[0].body.event);
}

async function readStay(tank, holds) {
  const events = await eventsOf(tank.id);
  const { batch, since } = lifeIn(events);
  const [elsewhere, purges, readings, postponed] = await Promise.all([
    batch ? entriesUnder("of-batch-at", ["batch-event", batch]) : [],
    since ? entriesUnder("of-tank-by-day", ["purge", tank.id], since) : [],
    since ? entriesUnder("of-tank-at", ["tank-reading", tank.id], since) : [],
    entriesUnder("of-tank-by-day", ["postponement", tank.id], ago(PUT_OFF)),
  ]);
  const before = purges.length || !tank.body.purge_every ? null : await lastFinished(tank.id);
  const held = openHolds(holds, tank.id).length > 0;
  return stayOf(tank, { events, elsewhere, purges: before ? [before] : purges, readings, postponed, held });
}

function ago(ms) {
  return new Date(Date.now() - ms).toISOString();
}
