/** A front, where something else comes. Twin of front.py, which has the limits. */

import { rounded } from "./colour.js";
import { lightOf, meanLight } from "./layer.js";

const PART = 5.0;
const [SHORTEST, LONGEST] = [2, 5];
const CLEAR = 6.0;
const [SLOWER, UNCLEAR] = [0.85, 1.5];
const GOING_BACK = -0.25;
export const TICK = 0.2;
const LATEST = 5;
const BLUR = 0.2;

/**
 * @typedef {import("./colour.js").Three} Three
 * @typedef {import("./layer.js").Reading} Reading
 */

/**
 * Whether more than half of what runs is new: the light changes slower than it did, and does not go back.
 * @param {Reading[]} recent @param {Three} was the light before @param {number} since s @param {number} clear scatters
 */
export function pastHalf(recent, was, since, clear) {
  const rows = recent.filter((row) => row[0] > since - 2 * SHORTEST * TICK);
  const far = rows.map((row) => away(lightOf(row), was));
  const shortest = clear > CLEAR ? SHORTEST : SHORTEST + 1;
  const n = Math.min(Math.max(Math.floor((recent[recent.length - 1][0] - since) / TICK / PART), shortest), LONGEST);
  if (far.length < 2 * n) return false;
  const speeds = [];
  for (let i = 0; i + 2 * n <= far.length; i += 1) {
    speeds.push(added(far.slice(i + n, i + 2 * n)) - added(far.slice(i, i + n)));
  }
  const [highest, last] = [Math.max(...speeds), speeds[speeds.length - 1]];
  return GOING_BACK * highest <= last && last <= (SLOWER - UNCLEAR / clear) * highest;
}

/**
 * The instant, s, from which more than half of what runs is new; of several crossings the middle one.
 * @param {Reading[]} recent @param {Three} was the light before @param {number} since s
 */
export function half(recent, was, since) {
  const late = recent.slice(-LATEST).filter((row) => row[0] > since);
  const came = meanLight(late.length ? late : recent.slice(-1));
  const way = less(came, was);
  const whole = Math.max(dot(way, way), 1e-12);
  let over = 0.0;
  /** @type {number[] | null} */
  let before = null;
  for (const row of recent) {
    const share = dot(less(lightOf(row), was), way) / whole;
    const now = [row[0], Math.min(Math.max((share - 0.5 + BLUR) / (2.0 * BLUR), 0.0), 1.0)];
    if (before) over += 0.5 * (now[1] + before[1]) * (now[0] - before[0]);
    before = now;
  }
  return rounded(recent[recent.length - 1][0] - over);
}

function away(one, other) {
  const apart = less(one, other);
  return Math.sqrt(dot(apart, apart));
}

/** @returns {Three} */
function less(one, other) {
  return [one[0] - other[0], one[1] - other[1], one[2] - other[2]];
}

function dot(one, other) {
  return one[0] * other[0] + one[1] * other[1] + one[2] * other[2];
}

function added(values) {
  return values.reduce((total, value) => total + value, 0.0);
}
