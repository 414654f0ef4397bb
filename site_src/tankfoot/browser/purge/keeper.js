/** Where the run of a purge is kept and read, and what time it is there: the record of this phone. */

import { refreshCurrentTank } from "../storage/current_tank.js";
import { cardOpened } from "../storage/card_opened.js";
import { openHoldsOf } from "../storage/holds.js";
import { begin, get, latestPurges, put, unfinishedPurges } from "../storage/record.js";

/**
 * A rehearsal hands its run a keeper of its own, so that nothing of it comes near the record.
 *
 * @typedef {typeof theRecord} Keeper
 */
export const theRecord = {
  isRehearsal: false,
  /** ms since the epoch */
  now: () => Date.now(),
  begin, get, put, latestPurges, unfinishedPurges, openHoldsOf, cardOpened,
  tankChanged: refreshCurrentTank,
};
