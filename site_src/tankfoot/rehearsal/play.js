/** A scripted run from its first act to its end. Twin of play.py. */

import { act } from "./acts.js";
import { STEPS_A_SECOND } from "./events.js";
import { begin, step } from "./model.js";
import { courseRow } from "./seen.js";

const AFTERWARDS = 20.0;

/** @param {string} seed @param {{t: number, act: string, to: any}[]} acts @param {number | null} until s */
export function play(scenario, seed, acts, until) {
  let state = begin(scenario, seed);
  const rows = [...acts].sort((a, b) => a.t - b.t);
  /** @type {object[]} */
  const course = [];
  /** @type {object[]} */
  const events = [];
  const last = stepOf(until ?? (rows.length ? rows[rows.length - 1].t + AFTERWARDS : AFTERWARDS));
  let done = 0;
  for (;;) {
    let told = state.happened.length;
    while (done < rows.length && stepOf(rows[done].t) <= state.steps) {
      events.push(rows[done]);
      state = act(state, rows[done]);
      done += 1;
    }
    events.push(...state.happened.slice(told));
    if (state.steps % STEPS_A_SECOND === 0) course.push(courseRow(state));
    if (state.steps >= last) return { events, course, state };
    told = state.happened.length;
    state = step(state);
    events.push(...state.happened.slice(told));
  }
}

function stepOf(seconds) {
  return Math.floor(seconds * STEPS_A_SECOND + 0.5);
}
