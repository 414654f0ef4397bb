/** Which pace the hand at the phone gets, by what the record holds under its initials. */

import { wholePractice } from "../../checklists/declared.js";
import { LAST } from "../../purge/machine.js";
import { paceOf, SHORT, TRAINED, whyEveryStep } from "../../purge/pace.js";
import { idsBackwards, wayOf } from "../storage/backwards.js";
import { getEach, ofKind } from "../storage/record.js";
import { settings } from "../storage/settings.js";

const AT_ONCE = 20; // purges read at first, then more at a time
const MOST = 400; // looked through: a hand whose purges lie farther back than so many gets every step

/** @returns {Promise<string|null>} why it is every step, null where the hand is trained for the short pace */
export async function whyNotShort() {
  const { initials, every_step: isAlways } = settings();
  const [purges, practices] = isAlways || !initials ? [[], []] : [await purgesBy(initials), await ofKind("training")];
  const own = practices.filter(({ demo }) => !demo).map(({ body }) => body);
  return whyEveryStep(initials, purges, own, new Date().toISOString(), wholePractice, isAlways);
}

/** The latest finished purges of a hand, as many as tell which pace it gets. */
async function purgesBy(initials) {
  const found = [];
  let seen = 0;
  for await (const ids of idsBackwards(wayOf("purge"), AT_ONCE)) {
    const read = (await getEach(ids.slice(0, MOST - seen))).filter((entry) => entry && !entry.deleted && !entry.demo);
    found.push(...read.map(({ body }) => body).filter((body) => body.initials === initials && body.state === LAST));
    seen += ids.length;
    if (seen >= MOST || found.length >= TRAINED || found.some(({ events }) => paceOf(events) === SHORT)) break;
  }
  return found;
}
