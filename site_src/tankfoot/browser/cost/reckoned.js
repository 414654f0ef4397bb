/** What purges cost, worked out of the record, the latest months first: what the page asks is answered as soon as it can be. */

import { batchIn, changesOf } from "../../batches/life.js";
import { baselineOf } from "../../report/baseline.js";
import { COLUMNS, isTold } from "../../report/facts.js";
import { figuresOf } from "../../report/figures.js";
import { groupsOf } from "../../report/groups.js";
import { missesByMonth } from "../../report/misses.js";
import { shareOf, volumesOf } from "../../report/shares.js";
import { trustOf } from "../../report/trust.js";
import { entriesUnderEach } from "../storage/ranges.js";
import { monthsBeside, monthsOfRecord, together } from "./months.js";
import { tellsOfBatch } from "./tells.js";

const YEAR = 12; // months
const MOST = 60; // purges in the chart, groups in the other picture: the last ones
const STRIPS = 50; // of which the colours are shown
const BATCHES = 6; // of which a picture is shown
const NO_BASELINE = {};
const OF_BASELINE = ["id", "at", "kind", "past"]; // all that it asks of a whole record

/**
 * @typedef {object} Asked
 * @property {string} period "all", "year", a month such as "2026-03", or "latest", the last month with a purge
 * @property {string} tank an id; "" of all tanks
 * @property {string} by what purges are compared by: see groups.py
 * @property {string} zone
 * @property {string} system of bare numbers
 * @property {[string, string][]} names of tanks, by id
 * @property {import("../../report/measures.js").Prices} prices
 * @property {string|null} since of the baseline, an instant
 * @property {string|null} until
 */

/**
 * Answers as often as it knows more: once the period is read, and again once all of the record is, which the baseline may
 * need. Before that it tells how far it is.
 *
 * @param {Asked} asked @param {(answer: any) => Promise<void>|void} tell
 * @param {Promise<any[]>|any[]} events of batches @param {ReturnType<typeof monthsOfRecord>} months
 */
export async function answer(asked, tell, events = eventsOfBatches(), months = monthsOfRecord(asked.zone)) {
  const batches = batchesOf(await events, asked.system);
  const read = [];
  let isAnswered = false;
  for await (const { read: more, count } of months) {
    read.push(...more);
    const isWhole = read.length === count;
    const isThere = !isAnswered && holds(asked.period, read);
    const told = isWhole || isThere ? made(asked, read, batches, isWhole) : null;
    isAnswered ||= told !== null && told.figures !== null;
    await tell({ ...(isAnswered ? told : null), done: read.length, count });
  }
  if (!isAnswered) await tell(made(asked, read, batches, true));
}

/** Whether a period lies in the months that are read; one more, since a zone's month is not that of UTC. */
function holds(period, read) {
  if (period === "latest") return read.length > 1 && read.some(({ facts }) => facts.id.length > 0);
  if (period === "year") return read.length > YEAR;
  return period !== "all" && read.at(-1).month < period;
}

export async function eventsOfBatches() {
  return (await entriesUnderEach([{ index: "by-day", start: ["batch-event"] }], tellsOfBatch))[0];
}

/** What each tank held from when on, and how much beer was in each batch. */
function batchesOf(events, system) {
  const stories = new Map();
  for (const event of events) {
    const { tank } = event.body;
    if (!stories.has(tank)) stories.set(tank, []);
    stories.get(tank).push(event);
  }
  return {
    changes: new Map([...stories].map(([tank, story]) => [tank, changesOf(story)])),
    volumes: volumesOf(events.map(({ body }) => body), system),
  };
}

function made(asked, read, { changes, volumes }, isWhole) {
  const facts = together(read);
  const isReal = facts.demo.includes(false);
  const local = read.flatMap((month) => month.local);
  const counted = facts.id.map((_, row) => row).filter((row) => !isReal || !facts.demo[row]);
  const months = [...new Set(counted.map((row) => local[row]))].sort().reverse();
  const period = asked.period === "latest" ? months[0] ?? "all" : asked.period;
  const isIn = (month) => isOf(month, period, months);
  const end = months.find(isIn) ?? "";
  const ofTank = counted.filter((row) => asked.tank === "" || facts.tank[row] === asked.tank);
  const chosen = taken(facts, ofTank.filter((row) => isIn(local[row])), { changes });
  const baseline = isWhole ? baselineOf(taken(facts, counted, { columns: OF_BASELINE }), asked.since, asked.until) : NO_BASELINE;
  const groups = groupsOf(chosen, new Map(asked.names), asked.zone);
  groups.batches = inTime(chosen, groups.batches);
  const everyRow = chosen.id.map((_, row) => row);
  const [[, figures], ...others] = figuresOf(chosen, [["all", everyRow], ...groups[asked.by].slice(-MOST)], asked.prices, baseline);
  const near = read.filter(({ month }) => monthsBeside(month).some(isIn)); // a clock on the wall is asked of no more than may count
  const misses = missesByMonth(near.flatMap((each) => each.misses).filter(({ demo }) => !isReal || !demo), asked.zone);
  return {
    isWhole, period, isDemo: !isReal && facts.id.length > 0, months, figures: counted.length ? figures : null, groups: others, baseline,
    share: shareOf(chosen, everyRow, volumes),
    overruns: overrunsOf(facts, ofTank.filter((row) => local[row] <= end)),
    batches: asked.by === "batches" ? figuresOf(chosen, groups.batches.slice(-BATCHES).reverse(), asked.prices, baseline) : [],
    misses: misses.filter(([month]) => isIn(month)),
    trust: trustOf(chosen, everyRow), strips: watchedIds(chosen, everyRow),
  };
}

/** The facts of some rows; with what tanks held from when on, each with its batch. */
function taken(facts, rows, { changes = null, columns = COLUMNS } = {}) {
  const some = Object.fromEntries(columns.map((name) => [name, rows.map((row) => facts[name][row])]));
  if (changes) some.batch = some.tank.map((tank, row) => batchIn(changes.get(tank) ?? [], some.created[row]));
  return some;
}

function isOf(month, period, months) {
  if (period === "year") return month > yearBefore(months[0]);
  return period === "all" || month === period;
}

function yearBefore(month) {
  return `${Number(month.slice(0, 4)) - 1}${month.slice(4)}`;
}

/** Batches in the order of their last purges. */
function inTime(facts, batches) {
  const last = ([, rows]) => rows.map((row) => facts.at[row]).sort().at(-1);
  return [...batches].sort((a, b) => (last(a) < last(b) ? -1 : 1));
}

/** The last purges that a camera watched, the latest first. */
function watchedIds(facts, rows) {
  const watched = rows.filter((row) => facts.watched[row]).sort((a, b) => (facts.at[a] < facts.at[b] ? 1 : -1));
  return watched.slice(0, STRIPS).map((row) => facts.id[row]);
}

/** The overrun of the last purges that tell it, in the order of time: a month alone would not say what is usual. */
function overrunsOf(facts, rows) {
  const told = rows.filter((row) => isTold(facts.overrun[row]));
  const key = (row) => facts.at[row] + facts.id[row];
  return told.sort((a, b) => (key(a) < key(b) ? -1 : 1)).slice(-MOST).map((row) => ({
    id: facts.id[row], at: facts.at[row], value: facts.overrun[row], uncertainty: facts.overrun_doubt[row],
  }));
}
