/** The round numbers that stand beside an axis. Twin of axis.py. */

const MOST_PIECES = 4.0;
const STEPS = Array.from({ length: 27 }, (_, i) => [1, 2, 5].map((digit) => Number(`${digit}e${i - 12}`))).flat();

/** The smallest round step that cuts a span into four pieces at most. @param {number} span */
export function roundStep(span) {
  return STEPS.find((step) => span <= MOST_PIECES * step) ?? span;
}

/** @param {number} least @param {number} most @returns {number[]} in round steps, from below the one to above the other */
export function roundNumbers(least, most) {
  const step = roundStep(most > least ? most - least : 1.0);
  const first = Math.floor(least / step);
  return Array.from({ length: Math.max(1, Math.ceil(most / step) - first) + 1 }, (_, i) => (first + i) * step);
}
