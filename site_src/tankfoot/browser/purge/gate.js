/** A gate's question: its answers change places each time it is asked, and one that comes too quickly is asked again. */

import { capped } from "../../purge/stack.js";
import { shuffled } from "../../purge/shuffle.js";
import { drawStack } from "../drawing/stack.js";

const asWritten = new WeakMap(); // the answers of each step's box
const READING = 1000; // ms that reading a question takes at the least. Common practice, no source

/** @param {HTMLElement} section of the step @param {object} run */
export function askGate(section, run) {
  let asked = 0;
  let since = -Infinity;

  function ask() {
    const { body: { state, events }, id } = run;
    const seed = `${id}/${state}/${events.length}/${asked}`;
    asked += 1;
    since = performance.now();
    shuffleAnswers(section, seed);
    const place = section.querySelector("[data-own-stack]");
    if (place) drawStack(place, state.startsWith("cap") ? capped(run.stack) : run.stack, seed);
  }

  ask();
  return {
    /** Whether an answer came sooner than the question can be read; then it is asked anew. */
    isTooQuick() {
      if (performance.now() - since >= READING) return false;
      ask();
      return true;
    },
  };
}

/** From the order in which they are written, so that every phone asks in the same one. */
function shuffleAnswers(section, seed) {
  const box = section.querySelector(".events");
  if (!asWritten.has(box)) asWritten.set(box, [...box.children]);
  box.append(...shuffled(asWritten.get(box), seed));
}
