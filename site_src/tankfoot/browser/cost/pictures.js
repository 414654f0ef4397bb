/** The pictures of what purges cost, each with its numbers in a table behind it. */

import { units } from "../../quantities/declared.js";
import { formatPair, formatPlain } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { naturalLimits, signals } from "../../report/limits.js";
import { bar, dots, runChart } from "../../report/pictures.js";
import { listed, words } from "../../wording/words.js";
import { drawPicture } from "../drawing/marks.js";
import { drawn } from "../drawing/section.js";
import { written } from "../parts/dates.js";
import { amountText, element } from "../parts/figures.js";
import { unitOf } from "../storage/units.js";
import { amountSaid, cellsOf, KINDS, short, tableOf } from "./told.js";

const BEYOND = ["above_limit", "below_limit"];
const RUNS = ["run_above", "run_below"];
const RULES = [...BEYOND, ...RUNS];
const PARTS = ["solids", "beer_in_solids", "overrun"];
const FEW_DIGITS = 3;
const IN_TABLE = ["overrun", "money_overrun", "beer_in_solids", "solids", "co2_mass", "seconds", "money"];

/** @param {HTMLElement} page @param {{at: string, value: number, uncertainty: number}[]} overruns in the order of time */
export function showChart(page, overruns) {
  const part = (name) => page.querySelector(`[data-${name}]`);
  const values = overruns.map(({ value }) => value / factor());
  const limits = naturalLimits(values);
  const rules = signals(values, limits);
  const points = overruns.map(({ at, uncertainty }, place) => ({
    value: values[place], uncertainty: inUnit(uncertainty), rule: rules[place], day: written(at, "shortDay"),
  }));
  const says = broken(points).join(" ");
  part("chart").replaceChildren(...overruns.length ? [pictureOf(runChart(points, limits, chartWords(limits, overruns.length)))] : []);
  part("signal").hidden = says === "";
  part("signal").textContent = says;
  part("chart-table").replaceChildren(tableOf([words("cost.measures.overrun")], [...overruns].reverse().map(({ at, ...amount }) => {
    const { text, give_or_take: spread } = amountText(amount, KINDS.overrun);
    return [written(at, "shortDayAndTime"), [`${text} ${spread}`.trim()]];
  })));
}

/** A word about the chart only where a rule is broken: what lies beyond a limit, and the last of eight in a row. */
function broken(points) {
  const beyond = points.filter(({ rule }) => BEYOND.includes(rule)).map(({ day }) => day);
  const runs = RUNS.flatMap((run) => points.findLast(({ rule }) => rule === run) ?? []);
  return [
    ...beyond.length ? [words("cost.unusual", { count: beyond.length, when: listed(beyond) })] : [],
    ...runs.map(({ rule, day }) => words(`cost.${rule}`, { when: day })),
  ];
}

function chartWords(limits, count) {
  const line = (name, key) => words(`cost.${key}`, { value: local(formatPlain(limits ? limits[name] : 0.0, FEW_DIGITS)) });
  const shown = limits && Object.fromEntries(["centre", "low", "high"].map((name) => (
    [name, short(Math.max(0.0, limits[name]) * factor(), KINDS.overrun)]
  )));
  return {
    title: words("cost.overrun"), up: axisWords(), rules: Object.fromEntries(RULES.map((rule) => [rule, words(`cost.rules.${rule}`)])),
    says: shown ? words("cost.chart", { count, ...shown }) : words("cost.chart_few", { count }),
    centre: line("centre", "centre"), low: line("low", "limit"), high: line("high", "limit"),
  };
}

/** @param {HTMLElement} page @param {[string, any][]} groups names and figures @param {any} all */
export function showGroups(page, groups, all) {
  const part = (name) => page.querySelector(`[data-${name}]`);
  const told = groups.filter(([, { overrun }]) => overrun.told > 0);
  const [name, most] = told.reduce((largest, each) => (largest && largest[1].overrun.sum >= each[1].overrun.sum ? largest : each), null) ?? [];
  part("most").textContent = told.length > 1 ? words("cost.most", { name, ...amountSaid(most.overrun, KINDS.overrun), all: short(all.overrun.sum, KINDS.overrun) }) : "";
  const rows = groups.map(([label, { overrun }]) => ({
    label, text: overrun.told ? inOneUnit(overrun) : "–", value: overrun.told ? inUnit(overrun.sum) : null, uncertainty: inUnit(overrun.uncertainty),
  }));
  const says = listed(rows.map(({ label, text }) => words("cost.pair", { label, text })), "unit");
  part("dots").replaceChildren(...groups.length ? [pictureOf(dots(rows, { title: words("cost.measures.overrun"), says, across: axisWords() }))] : []);
  const shown = IN_TABLE.filter((measure) => all[measure].told > 0);
  part("dots-table").replaceChildren(tableOf([words("cost.columns.purges"), ...shown.map((measure) => words(`cost.measures.${measure}`))],
    groups.map(([group, figures]) => [group, [String(figures.purges), ...shown.map((measure) => cellsOf(figures[measure], KINDS[measure])[0])]])));
}

/** @param {HTMLElement} page @param {[string, any][]} batches names and figures, none where they are not asked for */
export function showBatches(page, batches) {
  const told = batches.filter(([, { volume_lost: lost }]) => lost.told > 0);
  page.querySelector("[data-batches]").hidden = told.length === 0;
  page.querySelector("[data-bars]").replaceChildren(...told.flatMap(([name, figures]) => [
    element("h3", { textContent: name }), element("figure", { className: "cost-picture" }, pictureOf(barOf(name, figures))),
  ]));
}

function barOf(name, figures) {
  const parts = PARTS.filter((part) => figures[part].told > 0).map((part) => (
    { part, label: words(`cost.measures.${part}`), text: inOneUnit(figures[part]), value: inUnit(figures[part].sum) }
  ));
  const lost = figures.volume_lost;
  const whole = { label: words("cost.measures.volume_lost"), text: inOneUnit(lost), value: inUnit(lost.sum), uncertainty: inUnit(lost.uncertainty) };
  const says = listed([...parts, whole].map(({ label, text }) => words("cost.pair", { label, text })), "unit");
  return bar(parts, whole, { title: name, says });
}

function pictureOf(picture) {
  const svg = drawn("svg", {});
  drawPicture(svg, picture);
  return svg;
}

function axisWords() {
  return words("cost.axis", { what: words("cost.measures.overrun"), unit: unitOf(KINDS.overrun) });
}

/** As "1.2 ± 0.3 gal": there is little room in a picture. */
function inOneUnit({ sum, uncertainty }) {
  return `${formatPair(sum / factor(), uncertainty / factor()).map(local).join(" ± ")} ${unitOf(KINDS.overrun)}`;
}

function inUnit(si) {
  return Number.isFinite(si) ? si / factor() : 0.0;
}

function factor() {
  return units[unitOf(KINDS.overrun)].factor;
}
