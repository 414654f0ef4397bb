/** What hangs under a tank: which clamp is which, and where each part is drawn. Twin of stack.py. */

import { draws, shuffled } from "./shuffle.js";

const VALVES = ["butterfly", "diaphragm"];
export const SIZE = 320.0;
export const LENGTHS = { tank: 24.0, clamp: 20.0, cap: 20.0, hose: 40.0 };
export const OTHERWISE = 46.0;
const EDGE = 44.0;
const TURNS = ["down", "left", "right"];
const COARSE = 1000;

/** @param {string[]} parts @returns {string|null} */
export function problem(parts) {
  if (parts.find((part) => VALVES.includes(part)) !== "butterfly") return "no-isolation-valve";
  if (!parts.includes("clamp", parts.indexOf("butterfly"))) return "no-clamp-below";
  const isEnded = parts.includes("hose") && parts.indexOf("hose") === parts.length - 1 && !parts.includes("cap");
  return isEnded ? null : "no-hose-last";
}

/** @param {string[]} parts @returns {number[]} */
export function tankSide(parts) {
  return [...parts.keys()].slice(0, parts.indexOf("butterfly")).filter((place) => parts[place] === "clamp");
}

/** @param {string[]} parts */
export function outer(parts) {
  return parts.indexOf("clamp", parts.indexOf("butterfly"));
}

/** @param {string[]} parts */
export function capped(parts) {
  return [...parts.slice(0, outer(parts) + 1), "cap"];
}

/** @param {string[]} parts @param {string} seed */
export function view(parts, seed) {
  const numbers = draws(seed);
  const next = () => numbers.next().value % COARSE;
  const names = ["tank", ...parts];
  const shares = [...names, "before"].map(next);
  const lengths = names.map((name) => LENGTHS[name] ?? OTHERWISE);
  const free = Math.max(0.0, SIZE - sum(lengths));
  const turn = free > 0.0 ? shuffled(TURNS, seed)[0] : TURNS[0];
  const each = free / (sum(shares) + 1.0);
  const across = EDGE + (SIZE - 2.0 * EDGE) * next() / COARSE;
  let at = shares[names.length] * each;
  const placed = names.map((part, place) => {
    const along = lengths[place] + shares[place] * each;
    const made = { part, ...point(turn, at + along / 2.0, across), along };
    at += along;
    return made;
  });
  return { turn, length: Math.max(SIZE, sum(lengths)), parts: placed };
}

function point(turn, along, across) {
  if (turn === "down") return { x: across, y: along };
  return { x: turn === "right" ? along : SIZE - along, y: across };
}

function sum(numbers) {
  return numbers.reduce((total, number) => total + number, 0.0);
}
