/** What the watching says of the glass, in words and signals: an aid beside the eye, and no more. */

import { words } from "../../wording/words.js";
import { give } from "../parts/device.js";

/** Why it cannot see just now, null where it can. @param {import("../../watch/seen.js").State} state */
export function blindBy({ t, unseen, stage }) {
  const last = unseen.at(-1);
  return last && last[1] === t && stage !== "beer" ? last[2] : null;
}

/**
 * What is said now.
 *
 * @param {import("../../watch/seen.js").State} state @param {{low: number}|null} usual when the colour usually changes
 */
export function saidOf(state, usual) {
  const blind = blindBy(state);
  if (blind) return words(`watch.blind.${blind}`);
  const isEarly = state.stage === "beer" && usual !== null && state.beer.at < usual.low;
  return words(`watch.stage.${isEarly ? "early" : state.stage}`);
}

/**
 * Gives the signal of what came since `before`, while the hand has not said that beer runs.
 *
 * @param {string|null} before the stage that was told last @param {string} stage @param {boolean} isTold by the hand
 */
export function signal(before, stage, isTold) {
  if (isTold || stage === before) return;
  if (stage === "beer") give("beer");
  else if (stage === "turning") give("turning");
}
