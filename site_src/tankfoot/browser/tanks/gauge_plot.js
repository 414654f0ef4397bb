/** The gauge of a tank in time, on its page: a picture, and a table behind it. */

import { atOneTemperature } from "../../batches/gauge.js";
import { calculators } from "../../calculators/declared.js";
import { units } from "../../quantities/declared.js";
import { formatIn } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { words } from "../../wording/words.js";
import { drawGaugePlot } from "../drawing/gauge_plot.js";
import { inAddress } from "../parts/address.js";
import { written } from "../parts/dates.js";
import { amountText, element } from "../parts/figures.js";
import { orShowTrouble } from "../parts/trouble.js";
import { gaugePast } from "../storage/gauge_past.js";
import { get } from "../storage/record.js";
import { unitOf } from "../storage/units.js";

const KIND = "gauge_pressure";
const DIGITS = 3;

const place = document.querySelector("[data-gauge-plot]");
const part = (name) => place.querySelector(`[data-${name}]`);
const id = inAddress().get("id");
if (id) await orShowTrouble(show(id));
place.dataset.shown = "true";

async function show(tank) {
  const found = await get(tank, "tank");
  if (!found || found.deleted) return;
  const { points, breaks, purges, vessel } = await gaugePast(found);
  place.hidden = points.length === 0;
  if (!points.length) return;
  const { temperature } = points.at(-1);
  const told = points.map((point, at) => toldOf(point, points[at - 1], breaks, temperature, vessel.air_pressure));
  const corrected = words("gauges.plot.corrected", { temperature: local(formatIn(temperature, unitOf("temperature"), DIGITS)) });
  part("told").textContent = sentence(told);
  part("key=corrected").querySelector("span").textContent = corrected;
  part("key=top-up").hidden = points.every(({ topped_up: after }) => after === null);
  part("key=purge").hidden = purges.length === 0;
  part("corrected").textContent = corrected;
  place.querySelector("tbody").replaceChildren(...rows(told, purges));
  draw(told, purges);
}

function toldOf(point, before, breaks, temperature, airPressure) {
  const usual = calculators["leak-down"].fields.pressure_before.absolute;
  return {
    at: point.at,
    read: point.pressure === null ? null : { value: point.pressure, uncertainty: point.pressure_doubt ?? usual },
    corrected: atOneTemperature(point, temperature, airPressure),
    leaves: atOneTemperature(afterTopUp(point), temperature, airPressure),
    after: point.topped_up === null ? null : { value: point.topped_up, uncertainty: point.topped_up_doubt ?? usual },
    joins: before !== undefined && !breaks.some((at) => before.at < at && at <= point.at),
  };
}

/** The point as its top-up, if there was one, left it: the next interval begins there. */
function afterTopUp(point) {
  const { topped_up: after, topped_up_doubt: doubt } = point;
  return after === null ? point : { ...point, pressure: after, pressure_doubt: doubt };
}

function sentence(told) {
  const [first, last] = [told[0], told.at(-1)].map(({ at }) => written(at, "wholeDay"));
  const { text, give_or_take: spread } = amountText(told.at(-1).read ?? told.at(-1).after, KIND);
  return words("gauges.plot.told", { count: told.length, first, last, text, spread });
}

function rows(told, purges) {
  const readings = told.map(({ at, read, corrected, after }) => ({ at, cells: [read, corrected, after].map(said) }));
  const done = purges.map(({ created }) => ({ at: created, cells: [words("gauges.plot.purge"), "", ""] }));
  return [...readings, ...done].sort((a, b) => (a.at < b.at ? 1 : -1)).map(({ at, cells }) => (
    element("tr", {}, element("th", { scope: "row", textContent: written(at) }),
      ...cells.map((textContent) => element("td", { textContent })))
  ));
}

function said(amount) {
  if (amount === null) return "";
  const { text, give_or_take: spread } = amountText(amount, KIND);
  return words("gauges.with_spread", { text, spread });
}

function draw(told, purges) {
  const unit = unitOf(KIND);
  const { factor } = units[unit];
  const inUnit = (amount, key = "value") => (amount === null ? null : amount[key] / factor);
  const points = told.map(({ at, read, corrected, leaves, after, joins }) => ({
    at: Date.parse(at), leaves: inUnit(leaves), read: inUnit(read), spread: inUnit(read, "uncertainty") ?? 0, corrected: inUnit(corrected),
    corrected_spread: inUnit(corrected, "uncertainty") ?? 0, topped_up: inUnit(after), joins,
  }));
  drawGaugePlot(place.querySelector("svg"), points, purges.map(({ created }) => Date.parse(created)), {
    title: part("told").textContent, up: unit, day: (ms) => written(ms, "shortDay"),
  });
}
