/** The colour of what runs now, learnt and followed. Twin of layer.py, which has the limits. */

import { chroma, difference, lab, rounded } from "./colour.js";

const [STEADY_FOR, SPARE] = [1.0, 0.3];
const FEWEST = 4;
const STEADY = 3.0;
const STILL = 2.5;
const SLOW = 8.0;
const LEAST = 1.5;
const [PALER, LIGHTER] = [28.0, 0.35];
const [SHADE, SHADE_COLOUR] = [2.0, 0.4];
const [GREENER, GREEN_DARK] = [0.1, 65.0];
const [DULL, DARK] = [22.0, 30.0];

/**
 * @typedef {import("./colour.js").Three} Three
 * @typedef {[number, number, number, number]} Reading s since opened, light
 * @typedef {{from: number, light: Three, scatter: number, seconds: number}} Layer scatter in CIEDE2000
 */

/** @param {Reading} row @returns {Three} */
export function lightOf([, r, g, b]) {
  return [r, g, b];
}

/** The layer that the latest readings show, null where they are not yet alike. @param {Reading[]} recent */
export function steady(recent) {
  const latest = recent.at(-1)?.[0] ?? 0.0;
  const seen = recent.filter((row) => row[0] > latest - STEADY_FOR - SPARE);
  if (seen.length < FEWEST || latest - seen[0][0] < STEADY_FOR) return null;
  const back = meanLight(seen);
  const colour = lab(back);
  let squares = 0.0;
  for (const row of seen) squares += difference(lab(lightOf(row)), colour) ** 2;
  const scatter = Math.sqrt(squares / seen.length);
  const half = Math.floor(seen.length / 2);
  const moved = difference(lab(meanLight(seen.slice(0, half))), lab(meanLight(seen.slice(half))));
  if (scatter > STEADY || moved > STILL) return null;
  return { from: seen[0][0], light: back, scatter: rounded(scatter), seconds: rounded(latest - seen[0][0]) };
}

/** @param {Reading[]} rows @returns {Three} */
export function meanLight(rows) {
  const total = [0.0, 0.0, 0.0];
  for (const row of rows) for (const place of [0, 1, 2]) total[place] += row[place + 1];
  return /** @type {Three} */ (total.map((sum) => rounded(sum / rows.length)));
}

/**
 * The layer after one more reading that belongs to it, `apart` in CIEDE2000.
 * @param {Layer} layer @param {Three} back its light @param {number} apart @param {number} seconds @returns {Layer}
 */
export function follow(layer, back, apart, seconds) {
  const learnt = layer.seconds + seconds;
  const share = seconds / Math.min(learnt, SLOW);
  const square = layer.scatter * layer.scatter;
  return {
    from: layer.from,
    light: /** @type {Three} */ (layer.light.map((one, i) => rounded(one + share * (back[i] - one)))),
    scatter: rounded(Math.sqrt(square + share * (apart * apart - square))),
    seconds: rounded(learnt),
  };
}

/** How far, in CIEDE2000, a reading of this layer is usually from its colour. @param {Layer} layer */
export function usualScatter(layer) {
  return Math.max(layer.scatter, LEAST);
}

/** Whether a colour is rather another layer of solids than beer. @param {Three} before @param {Three} now */
export function stillSolids(before, now) {
  const [lightness, a, b] = now;
  const [lighter, more, colourful] = [lightness - before[0], chroma(now) - chroma(before), chroma(now)];
  const dull = colourful < DULL && lightness > DARK;
  const yeast = lighter > 0.0 && more < LIGHTER * lighter && colourful < PALER;
  return dull || yeast || (a < -GREENER * b && lightness < GREEN_DARK);
}

/** Whether light is the light before, only more or less of it. @param {Three} before @param {Three} now */
export function onlyLighter(before, now) {
  const factor = (now[0] + now[1] + now[2]) / Math.max(before[0] + before[1] + before[2], 1e-6);
  if (factor <= 1.0 / SHADE || factor >= SHADE) return false;
  const asLight = /** @type {Three} */ (before.map((one) => factor * one));
  return difference(lab(asLight), lab(now)) < SHADE_COLOUR * difference(lab(before), lab(now));
}
