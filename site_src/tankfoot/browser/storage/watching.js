/** What the camera has seen of the run under way: on this phone alone, until its purge is saved or deleted. */

import { openMemory } from "./memory.js";

const memory = openMemory("tankfoot-watching");

/**
 * @typedef {{x: number, y: number}} Mark its middle, as a share of the picture's width and height
 * @typedef {{purge: string, opened: number, state: any, strip: any, isOff: boolean}} Run `isOff`: by the hand
 */

/**
 * What was kept of a purge's run, null where nothing is. `opened`: the instant that its seconds count from, ms.
 *
 * @param {string} purge its id @returns {Run|null}
 */
export function keptRun(purge) {
  const { run } = memory.glance();
  const isWhole = run?.purge === purge && Number.isFinite(run.opened) && Array.isArray(run.state?.recent) && run.strip;
  return isWhole ? run : null;
}

/** @param {Run} run in the place of any other */
export function keepRun(run) {
  return memory.save({ run });
}

/** @param {string} purge its id */
export async function forgetRun(purge) {
  if (memory.glance().run?.purge === purge) await memory.save({ run: null });
}

/** Where the marks stood last, null where nobody placed them. @returns {{glass: Mark, reference: Mark}|null} */
export function keptMarks() {
  const { marks } = memory.glance();
  return isMark(marks?.glass) && isMark(marks.reference) ? marks : null;
}

/** @param {{glass: Mark, reference: Mark}} marks */
export function keepMarks(marks) {
  return memory.save({ marks });
}

function isMark(found) {
  return [found?.x, found?.y].every((share) => Number.isFinite(share) && share >= 0 && share <= 1);
}
