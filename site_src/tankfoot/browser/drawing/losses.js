/** What left the tank, as one bar to scale: its parts in the order in which they left, ±, and what is usual below it. */

import { narrowed } from "../../report/marks.js";
import { words } from "../../wording/words.js";
import { drawn } from "./section.js";

const WIDE = 320;
const BAR = { y: 4, height: 28 };
const USUAL = { y: 37, height: 10 };
const TALL = { alone: 36, compared: 64 };
const LETTERS = 36; // for which there is surely room below
const KEY = 18; // px of a pattern's sample
const FILLED = ["solids", "beer_in_solids"]; // by a pattern

let count = 0; // drawings on the page, so that no two share a pattern's name

/**
 * @param {{parts: {part: string, value: number}[], whole: {value: number, uncertainty: number|null}, usual: {part: string, value: number}[]}} told
 *   in one unit; no parts where nothing tells the whole apart
 * @param {string} says the same in words @param {string} saysUsual what stands at the bar below
 * @returns {{bar: SVGElement, keyOf: (part: string) => SVGElement}}
 */
export function drawLosses({ parts, whole, usual }, says, saysUsual) {
  const name = `losses-${count += 1}`;
  const end = whole.value + (whole.uncertainty ?? 0);
  const most = Math.max(end, sumOf(parts), sumOf(usual)) || 1;
  const x = (amount) => Number(((WIDE * amount) / most).toFixed(2));
  const bar = drawn("svg", {
    class: "losses", viewBox: `-2 0 ${WIDE + 4} ${usual.length ? TALL.compared : TALL.alone}`, role: "img",
    "aria-labelledby": `${name}-title ${name}-words`,
  });
  bar.append(
    drawn("title", { id: `${name}-title` }, words("drawing.losses.title")),
    drawn("desc", { id: `${name}-words` }, says),
    patterns(name),
    ...stacked(parts.length ? parts : [{ part: "whole", value: whole.value }], x, BAR, name),
    ...(whole.uncertainty ? whisker(x(Math.max(0, whole.value - whole.uncertainty)), x(end)) : []),
    ...(usual.length ? [...stacked(usual, x, USUAL, name), drawn("text", { x: 0, y: 61, ...narrowed(saysUsual, LETTERS, WIDE) }, saysUsual)] : []),
  );
  return { bar, keyOf: (part) => keyOf(part, name) };
}

function sumOf(parts) {
  return parts.reduce((sum, { value }) => sum + value, 0);
}

/** The kinds are told apart by what fills them, whatever the light or the paper. */
function patterns(name) {
  const defs = drawn("defs");
  const hatched = drawn("pattern", { id: `${name}-solids`, width: 8, height: 8, patternUnits: "userSpaceOnUse" });
  hatched.append(drawn("path", { d: "M-2 2L2 -2M0 8L8 0M6 10L10 6", class: "hatch" }));
  const dotted = drawn("pattern", { id: `${name}-beer_in_solids`, width: 8, height: 8, patternUnits: "userSpaceOnUse" });
  dotted.append(...[[2, 2], [6, 6]].map(([cx, cy]) => drawn("circle", { cx, cy, r: 1.5, class: "dot" })));
  defs.append(hatched, dotted);
  return defs;
}

function stacked(parts, x, { y, height }, name) {
  let before = 0;
  return parts.map(({ part, value }) => {
    const [from, to] = [x(before), x(before + value)];
    before += value;
    return filled(part, { x: from, y, width: Math.max(0, to - from), height }, name);
  });
}

function filled(part, box, name) {
  const isPattern = FILLED.includes(part);
  return drawn("rect", { ...box, class: part, ...(isPattern ? { fill: `url(#${name}-${part})` } : {}) });
}

/** ± of the whole, at its end. */
function whisker(from, to) {
  const middle = BAR.y + BAR.height / 2;
  const d = `M${from} ${middle}H${to}M${from} ${middle - 7}v14M${to} ${middle - 7}v14`;
  return ["around", "whisker"].map((kind) => drawn("path", { class: kind, d }));
}

function keyOf(part, name) {
  const key = drawn("svg", { class: "losses", "data-key": "", width: KEY, height: KEY, viewBox: `0 0 ${KEY} ${KEY}`, "aria-hidden": "true" });
  key.append(filled(part, { x: 1, y: 1, width: KEY - 2, height: KEY - 2 }, name));
  return key;
}
