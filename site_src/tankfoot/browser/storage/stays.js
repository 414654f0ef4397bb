/**
 * What is in the tanks and what was done to it. Of each tank only the batch that is in it now is read, whatever the
 * record holds besides.
 */

import { events as kinds } from "../../batches/declared.js";
import { lifeIn } from "../../batches/life.js";
import { rulesOf } from "../../batches/rules.js";
import { stayOf } from "../../batches/stay.js";
import { openHolds } from "../../tanks/hold.js";
import { countOn } from "./backwards.js";
import { entriesUnder, entriesUnderEach, latestUnder } from "./ranges.js";
import { getEach, ofKind, unliftedHolds } from "./record.js";
import { lastFinished } from "./rounds.js";

const DAY = 86_400_000; // ms
const RECENT = 45 * DAY; // longer than most batches stay: what is older is read only where that does not tell
const OLDER = 16; // events read where these do not tell, then more and more
const PUT_OFF = 60 * DAY; // nothing is put off for longer

/**
 * @param {object[]} tanks entries
 * @returns {Promise<Map<string, any>>} by their ids: see stay.py
 */
export async function staysOf(tanks) {
  const [events, holds, postponed] = await Promise.all([
    eventsOfEach(tanks.map(({ id }) => id)), unliftedHolds(),
    entriesUnder("by-day", ["postponement"], ago(PUT_OFF)),
  ]);
  const lives = events.map(lifeIn);
  const [elsewhere, purges, readings] = await Promise.all([
    readWhere(lives, cameFromElsewhere, ({ batch }) => ({ index: "of-batch-at", start: ["batch-event", batch] })),
    readWhere(lives, isFilled, ({ since }, at) => ({ index: "of-tank-by-day", start: ["purge", tanks[at].id], since }), tellsItsEnd),
    readWhere(lives, isFilled, ({ since }, at) => ({ index: "of-tank-at", start: ["tank-reading", tanks[at].id], since }), tellsWhen),
  ]);
  return new Map(await Promise.all(tanks.map(async (tank, at) => [tank.id, stayOf(tank, {
    events: events[at],
    elsewhere: elsewhere[at],
    purges: purges[at].length || !tank.body.purge_every ? purges[at] : await lastPurge(tank.id),
    readings: readings[at],
    postponed: postponed.filter(({ body }) => body.tank === tank.id),
    held: openHolds(holds, tank.id).length > 0,
  })])));
}

/** What is under the ranges of those lives that ask for it, in one transaction; nothing for the others. */
async function readWhere(lives, isAsked, rangeOf, isRight = undefined) {
  const asked = lives.map((life, at) => ({ life, at })).filter(({ life }) => isAsked(life));
  const found = await entriesUnderEach(asked.map(({ life, at }) => rangeOf(life, at)), isRight);
  const all = lives.map(() => []);
  for (const [place, { at }] of asked.entries()) all[at] = found[place];
  return all;
}

/** All that stay.js takes of a purge: to look at the whole of some hundred would be felt. */
function tellsItsEnd({ body, created }) {
  return typeof body?.state === "string" && Array.isArray(body.events) && isInstant(body.events.at(-1)?.at ?? created);
}

/** All that stay.js takes of a reading. */
function tellsWhen({ body }) {
  return isInstant(body?.at) && (body.pressure === null || typeof body.pressure === "string");
}

function isInstant(text) {
  return typeof text === "string" && !Number.isNaN(Date.parse(text));
}

function isFilled({ batch }) {
  return batch !== null;
}

function cameFromElsewhere({ batch, events }) {
  return batch !== null && events[0].body.event !== "filled";
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
  return (await eventsOfEach([tank]))[0];
}

async function eventsOfEach(tanks) {
  const found = await entriesUnderEach(tanks.map((tank) => ({ ...eventsIn(tank), since: ago(RECENT) })));
  return Promise.all(tanks.map((tank, at) => (isWhole(found[at]) ? found[at] : olderEvents(tank))));
}

/** Of a tank that holds its beer for long, or stands empty: as many of its latest events as tell since when. */
async function olderEvents(tank) {
  const { index, start } = eventsIn(tank);
  const all = await countOn({ index, start });
  for (let count = OLDER; ; count *= 4) {
    const events = await latestUnder(index, start, count);
    if (count >= all || isWhole(events)) return events;
  }
}

function eventsIn(tank) {
  return { index: "of-tank-at", start: ["batch-event", tank], since: null };
}

/** Whether the events begin before the batch that they tell of came in, or with that. */
function isWhole(events) {
  const { since } = lifeIn(events);
  return since !== null && (events[0].body.at < since || kinds[events[0].body.event].fills);
}

async function lastPurge(tank) {
  const last = await lastFinished(tank);
  return last ? [last] : [];
}

function ago(ms) {
  return new Date(Date.now() - ms).toISOString();
}
