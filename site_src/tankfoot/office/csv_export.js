/** The finished purges as a table for a spreadsheet: CSV by RFC 4180. Twin of csv_export.py. */

import { batchAt } from "../batches/life.js";
import { units } from "../quantities/declared.js";
import { wasSetBack } from "../purge/clock.js";
import { LAST, instantOf, runTimes } from "../purge/machine.js";
import { offered } from "../quantities/text.js";
import { columns } from "./declared.js";

const FORMULA_STARTS = "=+-@\t\r\n＝＋－＠";

/**
 * The finished purges among `entries`, oldest first, in the first units that a `system` offers. `entries` of batches and
 * of what happened to them say which beer was in the tank when a purge began.
 */
export function purgesCsv(entries, system) {
  const [purges, batches, events] = ["purge", "batch", "batch-event"].map((wanted) => (
    entries.filter(({ kind, deleted }) => kind === wanted && !deleted)
  ));
  const beers = new Map(batches.map(({ id, body }) => [id, body.beer]));
  const stories = new Map(events.map(({ body }) => [body.tank, []]));
  for (const event of events) stories.get(event.body.tank).push(event);
  const beerOf = ({ body, created }) => beers.get(batchAt(stories.get(body.tank) ?? [], created)) ?? null;
  const finished = purges.filter(({ body }) => body.state === LAST);
  const rows = finished.map((entry) => ({ ...asRow(entry), beer: beerOf(entry) })).sort((a, b) => (sortText(a) < sortText(b) ? -1 : 1));
  const lines = [
    columns.map(([name, , kind]) => quoted(header(name, kind, system))),
    ...rows.map((row) => columns.map(([, path, kind]) => cell(at(row, path), kind, system))),
  ];
  return lines.map((line) => `${line.join(",")}\r\n`).join("");
}

function asRow(entry) {
  const { run, overrun } = runTimes(entry.body.events);
  const opened = instantOf(entry.body.events, "opened");
  const setBack = wasSetBack(run, overrun);
  return {
    ...entry, ...(setBack ? {} : { run_time: run, overrun_time: overrun }), clock_set_back: setBack,
    opened: opened === null ? entry.created : new Date(opened).toISOString(),
  };
}

function sortText({ opened, id }) {
  return opened + id;
}

function at(row, path) {
  return path.split(".").reduce((inside, key) => inside?.[key] ?? null, row);
}

function header(name, kind, system) {
  if (kind === null || kind === "money") return name;
  return `${name}_${offered(kind, system)[0].replaceAll(" ", "_")}`;
}

function cell(value, kind, system) {
  if (value === null) return "";
  if (typeof value === "boolean") return quoted(value ? "yes" : "no");
  if (kind === null) return quoted(value && FORMULA_STARTS.includes(value[0]) ? `'${value}` : value);
  const unit = units[offered(kind, system)[0]];
  return String(Number(((value - unit.offset) / unit.factor).toPrecision(6)) + 0);
}

function quoted(text) {
  return `"${text.replaceAll('"', '""')}"`;
}
