/** What purges cost, worked out of the record, the latest months first: what the page asks is answered as soon as it can be. */

import { batchIn, changesOf } from "../../batches/life.js";
import { baselineOf } from "../../report/baseline.js";
import { figuresOf } from "../../report/figures.js";
import { groupsOf } from "../../report/groups.js";
import { measured } from "../../report/measures.js";
import { missesByMonth } from "../../report/misses.js";
import { shareOf, volumesOf } from "../../report/shares.js";
import { entriesUnder } from "../storage/ranges.js";
import { monthOfRecord, monthsOfRecord, together } from "./months.js";

const YEAR = 12; // months
const NO_BASELINE = {};

/**
 * @typedef {object} Asked
 * @property {string} period "all", "year" or a month such as "2026-03"
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
 */
export async function answer(asked, tell) {
  const months = await monthsOfRecord();
  const wanted = monthsFor(asked.period, months);
  const batches = await batchesOfRecord(asked);
  const read = [];
  for (const [place, month] of months.entries()) {
    read.push(await monthOfRecord(month));
    if (place + 1 === wanted && wanted < months.length) await tell(made(asked, months, read, batches, false));
    else await tell({ done: place + 1, count: months.length });
  }
  await tell(made(asked, months, read, batches, true));
}

/** How many of the latest months hold the period; one more on either side, since a zone's month is not that of UTC. */
function monthsFor(period, months) {
  if (period === "all") return months.length;
  if (period === "year") return Math.min(months.length, YEAR + 1);
  const place = months.findIndex((month) => month < period);
  return place < 0 ? months.length : Math.min(months.length, place + 1);
}

/** What happened to batches: what each tank held from when on, and how much beer was in each batch. */
async function batchesOfRecord({ system }) {
  const events = await entriesUnder("by-day", ["batch-event"]);
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

function made(asked, months, read, batches, isWhole) {
  const all = together(read);
  const isReal = all.demo.includes(false);
  all.batch = all.tank.map((tank, row) => batchIn(batches.changes.get(tank) ?? [], all.created[row]));
  const names = new Map(asked.names);
  const counted = all.id.map((_, row) => row).filter((row) => !isReal || !all.demo[row]);
  const facts = taken(all, counted);
  const byMonth = groupsOf(facts, names, asked.zone).months;
  const rows = new Set(byMonth.filter(([month]) => isIn(month, asked.period, byMonth)).flatMap(([, of]) => of));
  const chosen = taken(facts, facts.id.map((_, row) => row).filter((row) => rows.has(row)));
  const baseline = isWhole ? baselineOf(facts, asked.since, asked.until) : NO_BASELINE;
  const groups = groupsOf(chosen, names, asked.zone)[asked.by];
  const misses = missesByMonth(read.flatMap((each) => each.misses).filter(({ demo }) => !isReal || !demo), asked.zone);
  const [[, figures], ...others] = figuresOf(chosen, [["all", chosen.id.map((_, row) => row)], ...groups], asked.prices, baseline);
  return {
    isWhole, isDemo: !isReal && all.id.length > 0, months: byMonth.map(([month]) => month).reverse(), figures, groups: others, baseline,
    share: shareOf(chosen, chosen.id.map((_, row) => row), batches.volumes),
    shares: asked.by === "batches" ? groups.map(([, rows]) => shareOf(chosen, rows, batches.volumes)) : [],
    overruns: overrunsOf(chosen, asked.prices, baseline),
    misses: misses.filter(([month]) => isIn(month, asked.period, byMonth)), left: isWhole ? 0 : months.length - read.length,
  };
}

function taken(facts, rows) {
  return Object.fromEntries(Object.entries(facts).map(([name, values]) => [name, rows.map((row) => values[row])]));
}

function isIn(month, period, byMonth) {
  if (period === "year") return month > yearBefore(byMonth.at(-1)[0]);
  return period === "all" || month === period;
}

function yearBefore(month) {
  return `${Number(month.slice(0, 4)) - 1}${month.slice(4)}`;
}

/** The overrun of each purge that tells it, in the order of time. */
function overrunsOf(facts, prices, baseline) {
  return measured(facts, "overrun", prices, baseline)
    .flatMap((part, row) => (part === null ? [] : [{ id: facts.id[row], at: facts.at[row], value: part[0], uncertainty: Math.hypot(...part.slice(1)) }]))
    .sort((a, b) => (a.at + a.id < b.at + b.id ? -1 : 1));
}
