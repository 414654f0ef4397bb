/** Whether the glass can be seen, and what light it sends back. Twin of sight.py, which has the limits. */

import { chroma, difference, lab, light, ratio } from "./colour.js";

const TOO_DARK = 0.02;
const TOO_DARK_BARE = 0.001;
const CLIPPED = 250.0;
const FOLLOWED = 1.0;
const [JUMP, CAST] = [1.7, 1.2];
const JUMP_SEEN = 5.0;
const BRIGHT = 1.4;
const [PALE, GREY] = [55.0, 9.0];

/**
 * @typedef {import("./colour.js").Three} Three
 * @typedef {{t: number, glass: number[], reference: number[] | null}} Sample s since opened, sRGB 0 to 255
 * @typedef {"dark" | "glare" | "fog" | "reference" | "moved" | "unsteady" | "gap"} Why
 */

/** Whether a colour is that of foam, fog, sanitizer or an empty glass. @param {Three} colour */
export function pale(colour) {
  return colour[0] > PALE && chroma(colour) < GREY;
}

/**
 * Why nothing can be seen, the light of the glass against the reference, that of the reference; each null where none.
 * @param {Sample} sample @param {Three | null} usual light of the reference up to now
 * @param {Three | null} last the colour seen last @returns {[Why | null, Three | null, Three | null]}
 */
export function look(sample, usual, last) {
  const glass = light(sample.glass);
  const reference = sample.reference === null ? null : light(sample.reference);
  if (reference === null && usual !== null) return ["reference", null, null];
  if (Math.max(...(reference ?? glass)) < (reference ? TOO_DARK : TOO_DARK_BARE)) return ["dark", null, null];
  if (Math.min(...sample.glass) >= CLIPPED) return ["glare", null, reference];
  const back = reference ? ratio(glass, reference) : glass;
  if (reference && usual && last && elsewhere(reference, usual) && difference(lab(back), last) > JUMP_SEEN) {
    return ["moved", back, reference];
  }
  if (reference && Math.min(...back) > BRIGHT) return ["glare", null, reference];
  return [null, back, reference];
}

/** Whether the light of the reference has jumped, as that of another place does. @param {Three} reference @param {Three} usual */
export function elsewhere(reference, usual) {
  const factors = reference.map((now, i) => (now + 0.001) / (usual[i] + 0.001));
  const [lowest, highest] = [Math.min(...factors), Math.max(...factors)];
  return highest > JUMP || lowest * JUMP < 1.0 || highest > CAST * lowest;
}

/**
 * The usual light of the reference, some seconds after it was told last.
 * @param {Three | null} usual @param {Three | null} reference @param {number} seconds @returns {Three | null}
 */
export function followed(usual, reference, seconds) {
  if (usual === null || reference === null) return reference ?? usual;
  const share = seconds / (seconds + FOLLOWED);
  return /** @type {Three} */ (usual.map((one, i) => one + share * (reference[i] - one)));
}
