/** The colours of a run as a strip, and what is kept of a watched run. Twin of strip.py, which says what a strip is. */

import { lab, light, srgb } from "./colour.js";
import { lightOf, meanLight } from "./layer.js";
import { answer } from "./seen.js";

const EVERY = 0.5;
const MOST = 500;
const LETTERS = 4;
const LATEST = 5;
const MOST_UNSEEN = 20;

/**
 * @typedef {import("./colour.js").Three} Three
 * @typedef {import("./seen.js").State} State
 * @typedef {{light: Three, count: number}} Open what belongs to the colour that is not over yet
 * @typedef {{from: number | null, every: number, colours: string, open: Open | null}} Strip
 * @typedef {{from: number, every: number, colours: string, turning_at: number | null, beer_at: number | null,
 *   unseen: [number, number, string][], beer_colour: Three | null, taken: boolean}} Watched a member of a purge
 */

/** The strip before its first colour. @returns {Strip} */
export function empty() {
  return { from: null, every: EVERY, colours: "", open: null };
}

/** The strip after one more colour. @param {Strip} strip @param {number} t @param {number[]} rgb @returns {Strip} */
export function add(strip, t, rgb) {
  const now = { light: light(rgb), count: 1 };
  if (strip.open === null || strip.from === null) return { ...strip, from: t, open: now };
  let { every } = strip;
  let place = Math.floor((t - strip.from) / every);
  const last = Math.floor(strip.colours.length / LETTERS);
  if (place < last) return strip;
  if (place === last) return { ...strip, open: together(strip.open, now) };
  let colours = shut(strip);
  while (place >= MOST) {
    colours = halved(filled(colours, MOST));
    every *= 2.0;
    place = Math.floor((t - strip.from) / every);
  }
  return { ...strip, every, colours: filled(colours, place), open: now };
}

/** The text of all colours of a strip. @param {Strip} strip */
export function shut({ colours, open }) {
  return open === null ? colours : colours + textOf([srgb(open.light.map((one) => one / open.count))]);
}

/** The text of half as many colours, each the mean in linear light of two neighbours. @param {string} text */
export function halved(text) {
  const lights = coloursOf(text).map(light);
  const pairs = lights.flatMap((_, place) => (place % 2 === 0 ? [lights.slice(place, place + 2)] : []));
  const mean = (pair) => [0, 1, 2].map((channel) => pair.reduce((sum, one) => sum + one[channel], 0.0) / pair.length);
  return textOf(pairs.map((pair) => srgb(mean(pair))));
}

/** The colours of a strip's text, whole numbers from 0 to 255. @param {string} text @returns {Three[]} */
export function coloursOf(text) {
  const flat = Array.from(atob(text), (letter) => letter.charCodeAt(0));
  return Array.from({ length: flat.length / 3 }, (_, place) => (
    /** @type {Three} */ (flat.slice(3 * place, 3 * place + 3))
  ));
}

/** The text of colours, whole numbers from 0 to 255. @param {number[][]} colours */
export function textOf(colours) {
  return btoa(String.fromCharCode(...colours.flat()));
}

/**
 * The colour that a strip has of a sample, after the step with it.
 * @param {State} state @param {import("./sight.js").Sample} sample @returns {number[]} sRGB
 */
export function colourOf({ recent }, { t, glass }) {
  const last = recent[recent.length - 1];
  return last && last[0] === t ? srgb(lightOf(last)) : glass;
}

/** What a purge keeps of a watched run, null where there was no colour. @param {Strip} strip @param {State} state */
export function kept(strip, state) {
  if (strip.from === null) return null;
  const found = answer(state);
  /** @type {Watched} */
  const told = {
    from: thousandth(strip.from), every: strip.every, colours: shut(strip),
    turning_at: found.turning_at && thousandth(found.turning_at), beer_at: found.beer_at && thousandth(found.beer_at),
    unseen: longest(found.unseen).map(([start, end, why]) => [thousandth(start), thousandth(end), why]),
    beer_colour: state.stage === "beer" ? lab(meanLight(state.recent.slice(-LATEST))) : null,
    taken: false,
  };
  return told;
}

/** @param {Open} one @param {Open} other @returns {Open} */
function together(one, other) {
  return {
    light: /** @type {Three} */ (one.light.map((channel, i) => channel + other.light[i])), count: one.count + other.count,
  };
}

function filled(colours, count) {
  return colours + colours.slice(-LETTERS).repeat(count - Math.floor(colours.length / LETTERS));
}

function longest(unseen) {
  const first = [...unseen].sort((one, other) => one[0] - one[1] - (other[0] - other[1])).slice(0, MOST_UNSEEN);
  return first.sort((one, other) => one[0] - other[0]);
}

function thousandth(t) {
  return Math.floor(t * 1000.0 + 0.5) / 1000.0;
}
