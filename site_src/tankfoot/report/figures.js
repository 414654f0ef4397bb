/** Figures of many purges: how much in all, how much usually, and what that is off by. Twin of figures.py. */

import { median } from "../usual/median.js";
import { exactSum } from "./exact.js";
import { MEASURES, measured } from "./measures.js";

/**
 * @typedef {import("./facts.js").Facts} Facts
 * @typedef {{sum: number, median: number|null, uncertainty: number, told: number, assumed?: number}} Figure
 */

const SAID_APART = ["solids", "beer_in_solids"]; // how much of the sum rests on an assumed share of beer

/**
 * @param {Facts} facts @param {[string, number[]][]} groups names and rows
 * @param {import("./measures.js").Prices} prices @param {import("./measures.js").Baseline} baseline
 * @returns {[string, Object<string, any>][]} names and their figures: see figures.py
 */
export function figuresOf(facts, groups, prices, baseline) {
  const figures = groups.map(([, rows]) => ({ purges: rows.length }));
  for (const name of MEASURES) {
    const parts = measured(facts, name, prices, baseline);
    for (const [place, [, rows]] of groups.entries()) {
      const told = rows.flatMap((row) => withTool(facts.tool[row], parts[row]));
      const made = figure(told);
      const assumed = rows.filter((row) => facts.assumed[row]).flatMap((row) => withTool("", parts[row]));
      figures[place][name] = SAID_APART.includes(name)
        ? { ...made, assumed: exactSum(assumed.map(([, value]) => value)) } : made;
    }
  }
  return groups.map(([name], place) => [name, figures[place]]);
}

/** @param {import("./measures.js").Part|null} part @returns {[string, number, number, number, number][]} none where it is none */
function withTool(tool, part) {
  return part === null ? [] : [[tool, ...part]];
}

/** @param {[string, number, number, number, number][]} parts each with its instrument in front @returns {Figure} */
export function figure(parts) {
  /** @type {Map<string, number[]>} */
  const tools = new Map();
  for (const [name, , tool] of parts) tools.set(name, tools.get(name) ?? []).get(name)?.push(tool);
  const shared = [...[...tools.values()].map(exactSum), exactSum(parts.map(([, , , assumed]) => assumed))];
  const squares = exactSum([...shared.map((each) => each * each), ...parts.map(([, , , , own]) => own * own)]);
  const values = parts.map(([, value]) => value);
  return { sum: exactSum(values), median: median(values), uncertainty: Math.sqrt(squares), told: parts.length };
}
