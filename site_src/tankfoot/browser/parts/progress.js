/** How far a long work is, so that a phone that takes its time is not taken for one that stands still. */

import { words } from "../../wording/words.js";

export const EVERY = 250; // ms; what is over sooner needs no word

/** @param {HTMLElement} place where it is said @param {string} key of a sentence with {done} and {count} */
export function progressIn(place, key) {
  let last = performance.now();
  return async (done, count) => {
    if (performance.now() - last < EVERY) return;
    place.textContent = words(key, { done, count });
    await shown();
    last = performance.now();
  };
}

/** Lets the page show what was said before the work goes on. */
export function shown() {
  return new Promise((resolve) => { setTimeout(resolve); });
}
