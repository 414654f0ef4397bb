/** What a purge told: the same picture on the result's step, when it is saved, and in the record. */

import { calculators } from "../../calculators/declared.js";
import { partsOf } from "../../purge/outcome.js";
import { formatPair, formatPlain } from "../../quantities/format.js";
import { units } from "../../quantities/declared.js";
import { local } from "../../quantities/locale.js";
import { tells } from "../../usual/purges.js";
import { calculatorWords } from "../../wording/declared.js";
import { listed, words } from "../../wording/words.js";
import { drawLosses } from "../drawing/losses.js";
import { unitOf } from "../storage/units.js";
import { element, figure } from "./figures.js";
import { LOST_KIND } from "./purge_line.js";

const LABELS = {
  volume_lost: ["purge-volume", "volume_lost"],
  saved: ["purge-split", "saved"],
  money_lost: ["purge-split", "money_lost"],
  money_saved: ["purge-split", "money_saved"],
  top_up_mass: ["co2-top-up", "co2_mass"],
};

/**
 * First what it is worth where a value of the beer is known, else what left; then the bar and its figures.
 *
 * @param {any} body of a purge @param {{count: number, parts: {part: string, value: number}[], whole: number|null}} usual
 * @returns {HTMLElement[]} none where no reading gives the volume
 */
export function purgePicture(body, usual) {
  const { result } = body;
  if (!result.volume_lost) return [];
  return [
    element("div", { className: "headline" }, ...figuresOf(result, headline(result))),
    pictureOf(body, usual),
  ];
}

/** What else it told, for the record's page. */
export function otherFigures(result) {
  const said = headline(result);
  return figuresOf(result, ["volume_lost", ...savedTold(result), "top_up_mass"].filter((name) => result[name] && !said.includes(name)));
}

/** What cannot tell says so first; then nothing is worth anything, and nothing of it is called saved. */
function headline(result) {
  if (!tells(result.volume_lost)) return ["volume_lost"];
  const saved = savedTold(result);
  if (!result.money_lost) return ["volume_lost", ...saved];
  return ["money_lost", ...(saved.includes("money_saved") ? ["money_saved"] : saved)];
}

function savedTold(result) {
  const names = ["saved", "money_saved"].filter((name) => result[name]);
  return [result.volume_lost, ...names.map((name) => result[name])].every((amount) => !amount || tells(amount)) ? names : [];
}

function figuresOf(result, names) {
  return names.map((name) => {
    const [calculator, own] = LABELS[name];
    const kind = name === "volume_lost" ? LOST_KIND : calculators[calculator].results[own];
    const made = figure(calculatorWords[calculator].results[own], result[name], kind);
    made.dataset.told = name;
    if (!tells(result[name])) made.append(element("p", { className: "doubt", textContent: words("purge.cannot_tell") }));
    return made;
  });
}

function pictureOf(body, usual) {
  const parts = partsOf(body);
  const whole = body.result.volume_lost;
  const symbol = unitOf(LOST_KIND);
  const rows = [...parts.map(({ part, assumed, ...amount }) => ({ part, assumed, amount })), { part: "whole", assumed: false, amount: whole }];
  const said = rows.map((row) => words("drawing.losses.part", { part: nameOf(row), amount: `${amountIn(row.amount, symbol)} ${symbol}` }));
  const { bar, keyOf } = drawLosses({ parts, whole, usual: parts.length ? usual.parts : [] }, words("drawing.losses.told", { parts: listed(said, "unit") }),
    words("drawing.losses.usual", { count: usual.count }));
  const isCompared = usual.count > 0;
  const heads = ["", words("drawing.losses.left", { unit: symbol }), ...(isCompared ? [words("drawing.losses.usual_head")] : [])];
  const table = element("table", {},
    element("thead", {}, element("tr", {}, ...heads.map((head) => headCell(head)))),
    element("tbody", {}, ...rows.map((row) => lineOf(row, { symbol, usual, isCompared, keyOf }))));
  const notes = parts.some(({ assumed }) => assumed) ? [element("figcaption", { className: "quiet", textContent: words("drawing.losses.assumed") })] : [];
  return element("figure", { className: "losses-picture" }, bar, table, ...notes);
}

function headCell(text) {
  return text ? element("th", { scope: "col", textContent: text }) : element("td");
}

function lineOf(row, { symbol, usual, isCompared, keyOf }) {
  const found = row.part === "whole" ? usual.whole : usual.parts.find(({ part }) => part === row.part)?.value ?? null;
  const key = row.part === "whole" ? [] : [keyOf(row.part), " "];
  const cells = [amountIn(row.amount, symbol), ...(isCompared ? [found === null ? "–" : amountIn({ value: found, uncertainty: null }, symbol)] : [])];
  const line = element("tr", {}, element("th", { scope: "row" }, ...key, nameOf(row)), ...cells.map((text) => element("td", { textContent: text })));
  line.dataset.part = row.part;
  return line;
}

function nameOf({ part, assumed }) {
  return words(`drawing.losses.${assumed && part === "beer_in_solids" ? "beer_assumed" : part}`);
}

/** A number and its ±, without the unit that stands at the head of its column. */
function amountIn({ value, uncertainty }, symbol) {
  const { factor } = units[symbol];
  if (uncertainty === null) return local(formatPlain(value / factor, 3));
  return formatPair(value / factor, uncertainty / factor).map(local).join(" ± ");
}
