/** Pictures of what purges cost: marks for an SVG out of numbers and words. Twin of pictures.py, which says what is what. */

import { roundNumbers } from "../quantities/axis.js";
import { formatPlain } from "../quantities/format.js";
import { WIDE, box, circle, fitted, path, picture, px, text } from "./marks.js";

export const LATEST_DRAWN = 60; // points of a chart
const RULES = ["above_limit", "below_limit", "run_above", "run_below"];
const [LEFT, TOP, BOTTOM] = [44.0, 34.0, 196.0]; // of a chart
const RIGHT = { withWords: 246.0, without: 318.0 }; // beside its lines
const [DATES, KEY, KEY_ROW, KEY_TEXT] = [220.0, 236, 24, 30.0];
const [LABELS, LABEL_ROW] = [254.0, 18.0]; // of its lines
const [ZERO, END, ROWS, ROW] = [10.0, 306.0, 48, 50]; // of rows of dots
const LONGEST = 36; // characters of a row's name and figures
const [START, FINISH, BAR] = [2.0, 326.0, [4.0, 38.0]]; // of a bar
const [PARTS, PART_ROW, SWATCH] = [48, 27, 18.0];
const [HATCH, DOTTED] = [8.0, 7.0];
const CUT_AT = 2.0; // times the largest value
const TIP = 4.0;

/**
 * @typedef {import("./marks.js").Picture} Picture
 * @typedef {{value: number, uncertainty: number|null}} Amount in the unit shown
 */

/**
 * @param {(Amount & {rule: string|null, day: string})[]} points in time
 * @param {import("./limits.js").Limits|null} limits
 * @param {{title: string, says: string, up: string, centre: string, low: string, high: string, rules: Record<string, string>}} words
 * @returns {Picture}
 */
export function runChart(points, limits, words) {
  const shown = points.slice(-LATEST_DRAWN);
  const lines = linesOf(limits, words);
  const right = lines.length ? RIGHT.withWords : RIGHT.without;
  const steps = axis(shown, lines.map(([, value]) => value));
  const y = scale(steps, BOTTOM, TOP);
  const places = shown.map((point, at) => /** @type {const} */ ([beside(at, shown.length, right), y(point.value), point]));
  const broken = RULES.filter((rule) => shown.some((point) => point.rule === rule));
  const drawnPoints = (rules) => places.filter(([, , point]) => rules.includes(point.rule))
    .map(([x, at, { rule }]) => pointAt(rule, x, at));
  return picture("run-chart", KEY + KEY_ROW * broken.length, words, [
    text("axis", 4.0, 16.0, words.up, 40, WIDE - 4.0),
    ...steps.flatMap((step) => [
      path("grid", `M${px(LEFT)} ${px(y(step))}H${px(right)}`),
      text("up", LEFT - 6.0, y(step), formatPlain(step, 3)),
    ]),
    ...labelled(lines, y, right),
    ...places.filter(([, , point]) => point.uncertainty)
      .map(([x, , point]) => path("spread", whisker(point, steps, y, "V", x))),
    ...(lines.length ? [path("series", "M" + places.map(([x, at]) => `${px(x)} ${px(at)}`).join("L"))] : []),
    ...drawnPoints([null]),
    ...drawnPoints(RULES),
    ...shown.slice(0, 1).map(({ day }) => text("day", LEFT, DATES, day)),
    ...shown.slice(1).slice(-1).map(({ day }) => text("last", right, DATES, day)),
    ...broken.flatMap((rule, at) => [
      pointAt(rule, 12.0, KEY + KEY_ROW * at + 8.0),
      text("key", KEY_TEXT, KEY + KEY_ROW * at + 13.0, words.rules[rule], 40, WIDE - KEY_TEXT),
    ]),
  ]);
}

/**
 * @param {{label: string, text: string, value: number|null, uncertainty: number|null}[]} rows
 * @param {{title: string, says: string, across: string}} words @returns {Picture}
 */
export function dots(rows, words) {
  const steps = axis(rows.filter(({ value }) => value !== null), []);
  const x = scale(steps, ZERO, END);
  const tall = ROWS + ROW * rows.length;
  return picture("loss-dots", tall + 8, words, [
    text("axis", 4.0, 16.0, words.across),
    ...steps.flatMap((step) => [
      path(step ? "grid" : "zero", `M${px(x(step))} ${ROWS - 4}V${tall}`),
      text("across", x(step), 38.0, formatPlain(step, 3)),
    ]),
    ...rows.flatMap((row, at) => dotted(row, ROWS + ROW * at, steps, x)),
  ]);
}

function dotted(row, top, steps, x) {
  return [
    text("name", ZERO + 6.0, top + 16.0, fitted(row.label, LONGEST - [...row.text].length)),
    text("figure", END + 12.0, top + 16.0, row.text),
    path("track", `M${px(ZERO)} ${top + 29}H${px(END)}`),
    ...(row.value !== null && row.uncertainty ? [path("spread", whisker(row, steps, x, "H", top + 29.0))] : []),
    ...(row.value !== null ? [circle("dot", x(row.value), top + 29.0, 6.0)] : []),
  ];
}

/**
 * @param {{part: string, label: string, text: string, value: number}[]} parts
 * @param {Amount & {label: string, text: string}} whole @param {{title: string, says: string}} words @returns {Picture}
 */
export function bar(parts, whole, words) {
  let sum = 0.0;
  const ends = [sum, ...parts.map(({ value }) => (sum += Math.max(0.0, value)))];
  const most = highest([whole], [sum]) || 1.0;
  const x = scale([0.0, most], START, FINISH);
  const [upper, lower] = BAR;
  const spread = whole.uncertainty ? whisker(whole, [0.0, most], x, "H", (upper + lower) / 2.0) : null;
  const top = PARTS + PART_ROW * parts.length;
  return picture("loss-bar", top + PART_ROW, words, [
    ...(sum ? [] : [path("empty", box(START, upper, FINISH, lower))]),
    ...parts.flatMap(({ part }, at) => (
      ends[at + 1] > ends[at] ? filled(part, x(ends[at]), upper, x(ends[at + 1]), lower) : []
    )),
    ...(spread ? [path("around", spread), path("whisker", spread)] : []),
    ...parts.flatMap((part, at) => keyOf(part, PARTS + PART_ROW * at)),
    path("sum", `M${px(START)} ${top - 2}H${px(FINISH)}`),
    text("name", KEY_TEXT, top + 16.0, whole.label),
    text("figure", FINISH, top + 16.0, whole.text),
  ]);
}

function keyOf({ part, label, text: said }, top) {
  return [
    ...filled(part, START, top, START + SWATCH, top + SWATCH),
    text("name", KEY_TEXT, top + 14.0, label),
    text("figure", FINISH, top + 14.0, said),
  ];
}

/** Heights, in their order, moved just so far that they are `row` apart. @param {number[]} heights */
export function apart(heights, row, first, last) {
  const placed = [...heights];
  for (let place = 0, least = first; place < placed.length; place += 1) {
    placed[place] = Math.max(placed[place], least);
    least = placed[place] + row;
  }
  for (let place = placed.length - 1, most = last; place >= 0; place -= 1) {
    placed[place] = Math.min(placed[place], most);
    most = placed[place] - row;
  }
  return placed;
}

/** The top of an axis: all values, and as much of each ± as leaves them readable. */
function highest(amounts, others) {
  const most = Math.max(0.0, ...amounts.map(({ value }) => value), ...others);
  const ends = Math.max(0.0, ...amounts.map(({ value, uncertainty }) => value + (uncertainty ?? 0.0)));
  return most > 0.0 ? Math.max(most, Math.min(ends, CUT_AT * most)) : ends;
}

function axis(amounts, others) {
  return roundNumbers(Math.min(0.0, ...amounts.map(({ value }) => value)), highest(amounts, others));
}

/** A function from a value to its place, of an axis between two places. */
function scale(steps, start, finish) {
  return (value) => start + (value - steps[0]) / (steps.at(-1) - steps[0]) * (finish - start);
}

/** Where a point stands across: in its order, since a purge counts as one however long ago it was. */
function beside(at, count, right) {
  return LEFT + 9.0 + (count > 1 ? at / (count - 1) : 0.5) * (right - LEFT - 18.0);
}

function linesOf(limits, words) {
  if (limits === null) return [];
  const low = limits.low > 0.0 ? [["limit", limits.low, words.low]] : [];
  return [["limit", limits.high, words.high], ["centre", limits.centre, words.centre], ...low];
}

/** The lines, and their words beside them, no two on one another. */
function labelled(lines, y, right) {
  const heights = apart(lines.map(([, value]) => y(value)), LABEL_ROW, TOP, BOTTOM);
  return lines.flatMap(([kind, value, said], at) => [
    path(kind, `M${px(LEFT)} ${px(y(value))}H${px(right)}`),
    path("leader", `M${px(right)} ${px(y(value))}L${px(LABELS - 2.0)} ${px(heights[at])}`),
    text("label", LABELS, heights[at], said, 10, WIDE - LABELS),
  ]);
}

/** The path of a ± along a way, "H" or "V", cut off at the ends of the axis. */
function whisker({ value, uncertainty }, steps, place, way, aside) {
  const [low, high] = [Math.max(steps[0], value - uncertainty), Math.min(steps.at(-1), value + uncertainty)];
  const isCut = value + uncertainty > steps.at(-1);
  const end = place(high);
  if (way === "V") {
    const tip = `M${px(aside - TIP)} ${px(end + TIP)}L${px(aside)} ${px(end)}L${px(aside + TIP)} ${px(end + TIP)}`;
    return `M${px(aside)} ${px(place(low))}V${px(end)}${isCut ? tip : ""}`;
  }
  const tip = `M${px(end - TIP)} ${px(aside - TIP)}L${px(end)} ${px(aside)}L${px(end - TIP)} ${px(aside + TIP)}`;
  return `M${px(place(low))} ${px(aside)}H${px(end)}${isCut ? tip : ""}`;
}

/** A circle, or what stands for a broken rule: a triangle that points past the limit, a square for a run. */
function pointAt(rule, x, y) {
  if (rule === null) return circle("point", x, y, 3.0);
  if (rule === "above_limit") return path(rule, `M${px(x)} ${px(y - 8.0)}l8 14h-16Z`);
  if (rule === "below_limit") return path(rule, `M${px(x)} ${px(y + 8.0)}l8 -14h-16Z`);
  return path(rule, `M${px(x - 5.0)} ${px(y - 5.0)}h10v10h-10Z`);
}

/** A box and what fills it: lines aslant, dots, or nothing besides. */
function filled(part, left, top, right, bottom) {
  const around = path(`part ${part}`, box(left, top, right, bottom));
  if (part === "solids") return [around, path("hatch", slants(left, top, right, bottom))];
  if (part === "beer_in_solids") return [around, path("dotted", grains(left, top, right, bottom))];
  return [around];
}

/** Lines on which x + y is a whole number of steps, within a box. */
function slants(left, top, right, bottom) {
  let d = "";
  for (let i = Math.floor((left + top) / HATCH) + 1; i < Math.ceil((right + bottom) / HATCH); i += 1) {
    const across = i * HATCH;
    const [x, end] = [Math.max(left, across - bottom), Math.min(right, across - top)];
    d += `M${px(x)} ${px(across - x)}L${px(end)} ${px(across - end)}`;
  }
  return d;
}

/** Dots in rows, each row half a step on: strokes of no length with round ends. */
function grains(left, top, right, bottom) {
  let d = "";
  for (let row = 1; row < Math.ceil((bottom - top) / DOTTED * 2.0); row += 1) {
    const start = left + (row % 2 ? 0.5 : 1.0) * DOTTED;
    const count = Math.ceil((right - start) / DOTTED - 0.25);
    for (let i = 0; i < count; i += 1) d += `M${px(start + i * DOTTED)} ${px(top + row * DOTTED / 2.0)}h0.1`;
  }
  return d;
}
