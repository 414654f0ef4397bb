/** The finished purges as a table for a spreadsheet: CSV by RFC 4180. Twin of csv_export.py. */

import { batchIn, changesOf } from "../batches/life.js";
import { wallText } from "../batches/wall_clock.js";
import { units } from "../quantities/declared.js";
import { wasSetBack } from "../purge/clock.js";
import { LAST, instantOf } from "../purge/machine.js";
import { runTimes } from "../purge/times.js";
import { offered } from "../quantities/text.js";
import { factOf, isTold } from "../report/facts.js";
import { missesOf } from "../report/misses.js";
import { columns } from "./declared.js";

const WHOLE = "whole";
const NO_MISSES = { wrong: 0, stops: 0, cards: 0, skipped: 0, reasons: [] };
const FORMULA_STARTS = "=+-@\t\r\n＝＋－＠";

/**
 * The finished purges among `entries`, oldest first, in the first units that a `system` offers. `entries` of batches and
 * of what happened to them say which beer was in the tank when a purge began; `zone` is that of the clock on the wall,
 * `currency` stands at the head of what is money.
 */
export function purgesCsv(entries, system, zone = "UTC", currency = "$") {
  const [purges, batches, events] = ["purge", "batch", "batch-event"].map((wanted) => (
    entries.filter(({ kind, deleted }) => kind === wanted && !deleted)
  ));
  const table = newTable({ batches, events }, system, zone, currency);
  for (const purge of purges) table.take(purge);
  return table.text();
}

/**
 * The same, one purge after the other: of each no more than its line is held.
 *
 * @param {{batches: any[], events: any[]}} told entries that are not deleted
 */
export function newTable({ batches, events }, system, zone = "UTC", currency = "$") {
  const beers = new Map(batches.map(({ id, body }) => [id, body.beer]));
  /** @type {Map<string, any[]>} */
  const stories = new Map(events.map(({ body }) => [body.tank, []]));
  for (const event of events) stories.get(event.body.tank)?.push(event);
  const changes = new Map([...stories].map(([tank, story]) => [tank, changesOf(story)]));
  const batchOf = ({ body, created }) => {
    const batch = batchIn(changes.get(body.tank) ?? [], created);
    return { batch, beer: beers.get(batch) ?? null };
  };
  const lines = [];
  const head = lineOf(columns.map(([name, , kind]) => quoted(header(name, kind, system, currency))));

  return {
    /** @param {any} entry a purge that is not deleted */
    take(entry) {
      if (entry.body.state !== LAST) return;
      const row = { ...asRow(entry, zone), ...batchOf(entry) };
      lines.push([sortText(row), lineOf(columns.map(([, path, kind]) => cell(at(row, path), kind, system)))]);
    },
    text() {
      return [head, ...lines.sort(([a], [b]) => (a < b ? -1 : 1)).map(([, line]) => line)].join("");
    },
  };
}

function lineOf(cells) {
  return `${cells.join(",")}\r\n`;
}

function asRow(entry, zone) {
  const [run, overrun] = runTimes(entry.body);
  const opened = instantOf(entry.body.events, "opened");
  const setBack = wasSetBack(run, overrun);
  const at = opened === null ? entry.created : new Date(opened).toISOString();
  const fact = factOf(entry, null);
  const misses = missesOf(entry) ?? NO_MISSES;
  return {
    ...entry, ...(setBack ? {} : { run_time: run, overrun_time: overrun }), clock_set_back: setBack,
    opened: at, opened_local: wallText(at, zone), zone, fact, flow: flowOf(fact), misses, skip_reasons: misses.reasons.join("; "),
  };
}

/** What left the tank in a second that the port was open, m³/s; null where that is not told. */
export function flowOf({ volume_lost: volume, run }) {
  return isTold(volume) && isTold(run) && run > 0.0 ? volume / run : null;
}

function sortText({ opened, id }) {
  return opened + id;
}

function at(row, path) {
  return path.split(".").reduce((inside, key) => inside?.[key] ?? null, row);
}

function header(name, kind, system, currency) {
  if (kind === null || kind === WHOLE) return name;
  if (kind === "money") return `${name}_${currency}`;
  return `${name}_${offered(kind, system)[0].replaceAll(" ", "_")}`;
}

function cell(value, kind, system) {
  if (value === null) return "";
  if (typeof value === "boolean") return quoted(value ? "yes" : "no");
  if (kind === null) return quoted(value && FORMULA_STARTS.includes(value[0]) ? `'${value}` : value);
  if (kind === WHOLE) return String(value);
  const unit = units[offered(kind, system)[0]];
  return String(Number(((value - unit.offset) / unit.factor).toPrecision(6)) + 0);
}

function quoted(text) {
  return `"${text.replaceAll('"', '""')}"`;
}
