/** When the colour will change: an interval for the next purge of a tank. Twin of change.py. */

import { studentQuantile } from "./student.js";

const COVERS = 0.8;
const FEWEST_OWN = 3;
const FEWEST_TO_BORROW = 2;
const FEWEST_BORROWED = 6;
const FEWEST_LENDERS = 2;
const QUICKEST = 1.0;
const CLOSEST = 0.01;
const ENOUGH = 8;
const SPREAD = 0.2;

/** @typedef {{seconds: number, rest: number|null, tank?: string}} Past a purge until its colour changed, and days before it */
/** @typedef {{y: number, x: number|null}} Point */
/** @typedef {{y: number, off: number}} AtRest */
/** @typedef {{value: number, spread: number}} Slope */

/**
 * When the colour of a purge with `rest` days of rest changes, with a chance of 80 %, in s; null where silent.
 *
 * @param {Past[]} own @param {Past[]} others
 * @returns {{low: number, middle: number, high: number, count: number, borrowed: number}|null}
 */
export function changeInterval(own, others, rest = /** @type {number|null} */ (null)) {
  const tanks = byTank(own, others);
  const [count, borrowed] = [tanks[0].length, countOf(tanks.slice(1))];
  const lends = borrowed >= FEWEST_BORROWED && tanks.length > FEWEST_LENDERS;
  if (count < (lends ? FEWEST_TO_BORROW : FEWEST_OWN)) return null;
  const slope = slopeOf(tanks, rest);
  const found = foretold(tanks.map((points) => points.map((point) => atRest(point, slope, rest))), slope);
  const reach = studentQuantile(0.5 + 0.5 * COVERS, found.freedom) * Math.sqrt(found.variance);
  const [low, middle, high] = [-reach, 0.0, reach].map((off) => Math.exp(found.middle + off));
  return { low, middle, high, count, borrowed };
}

/** The points of each tank that has some, ln(s) and ln(days); the tank's own first, even of none. */
function byTank(own, others) {
  /** @type {Map<string, Past[]>} */
  const found = new Map();
  for (const purge of others) {
    const before = found.get(purge.tank);
    if (before) before.push(purge);
    else found.set(purge.tank, [purge]);
  }
  const [first, ...lists] = [own, ...found.values()].map((purges) => (
    purges.filter(({ seconds }) => seconds >= QUICKEST).map(pointOf)
  ));
  return [first, ...lists.filter((points) => points.length)];
}

/** @returns {Point} */
function pointOf({ seconds, rest }) {
  return { y: Math.log(seconds), x: rest ? Math.log(rest) : null };
}

/** The slope of ln(seconds) on ln(days) within tanks; null where there is not enough to tell it. @returns {Slope|null} */
function slopeOf(tanks, rest) {
  const known = tanks.map((points) => points.filter(({ x }) => x !== null)).filter((points) => points.length);
  const freedom = countOf(known) - known.length - 1;
  if (!rest || freedom < ENOUGH) return null;
  let [across, spread] = [0.0, 0.0];
  for (const points of known) {
    const [x, y] = ["x", "y"].map((axis) => mean(points.map((point) => point[axis])));
    spread += sum(points.map((point) => (point.x - x) * (point.x - x)));
    across += sum(points.map((point) => (point.x - x) * (point.y - y)));
  }
  return spread >= SPREAD * SPREAD * freedom ? { value: across / spread, spread } : null;
}

/** A point as it would be after this rest, and how far it was away; as it is where nobody knows. @returns {AtRest} */
function atRest({ y, x }, slope, rest) {
  if (slope === null || x === null) return { y, off: 0.0 };
  const off = x - Math.log(rest);
  return { y: y - slope.value * off, off };
}

/** @param {AtRest[][]} tanks @param {Slope|null} slope */
function foretold(tanks, slope) {
  const [counts, total] = [tanks.map(({ length }) => length), countOf(tanks)];
  const means = tanks.map((points) => mean(points.map(({ y }) => y)));
  const squares = sum(tanks.flatMap((points, place) => points.map(({ y }) => (y - means[place]) * (y - means[place]))));
  const freedom = total - tanks.length - (slope === null ? 0 : 1);
  const within = Math.max(squares / freedom, CLOSEST * CLOSEST);
  const made = tanks.length > 1
    ? shrunk(counts, means, within, freedom)
    : { weights: [1.0], variance: within + within / total, freedom };
  const offs = tanks.map((points) => mean(points.map(({ off }) => off)));
  const [middle, off] = [means, offs].map((values) => sum(values.map((value, place) => made.weights[place] * value)));
  const tilt = slope === null ? 0.0 : off * off * within / slope.spread;
  return { middle, variance: made.variance + tilt, freedom: made.freedom };
}

/** @param {number[]} counts @param {number[]} means @param {number} within @param {number} freedom */
function shrunk(counts, means, within, freedom) {
  const [total, apart] = [sum(counts), counts.length - 1];
  const grand = sum(counts.map((count, place) => count * means[place])) / total;
  const between = sum(counts.map((count, place) => count * (means[place] - grand) * (means[place] - grand))) / apart;
  const usualCount = (total - sum(counts.map((count) => count * count)) / total) / apart;
  const tau2 = Math.max(0.0, (between - within) / usualCount);
  const spans = counts.map((count) => count * tau2 + within);
  const weights = counts.map((count, place) => count / spans[place]);
  const [whole, left] = [sum(weights), within / spans[0]];
  const variance = within + tau2 * left + left * left / whole;
  // the variance's derivatives by the two components, then what the two mean squares do to it
  const wholeByWithin = -sum(weights.map((weight, place) => weight * weight / counts[place]));
  const wholeByTau2 = -sum(weights.map((weight) => weight * weight));
  const bent = left * left / (whole * whole);
  const byTau2 = left * left - 2.0 * left * left * weights[0] / whole - bent * wholeByTau2;
  const byWithin = 1.0 + tau2 * weights[0] * tau2 / spans[0] + 2.0 * left * tau2 * weights[0] / (spans[0] * whole)
    - bent * wholeByWithin;
  const isApart = tau2 > 0.0;
  const fromBetween = isApart ? byTau2 / usualCount * between : 0.0;
  const fromWithin = (isApart ? byWithin - byTau2 / usualCount : byWithin) * within;
  const told = variance * variance / (fromWithin * fromWithin / freedom + fromBetween * fromBetween / apart);
  const shares = weights.map((weight) => left * weight / whole);
  shares[0] += 1.0 - left;
  return { weights: shares, variance, freedom: Math.max(told, 1.0) };
}

function countOf(lists) {
  return sum(lists.map(({ length }) => length));
}

function mean(values) {
  return sum(values) / values.length;
}

function sum(values) {
  return values.reduce((all, value) => all + value, 0);
}
