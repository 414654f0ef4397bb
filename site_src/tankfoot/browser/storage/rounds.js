/** Rounds in the record, and the purges of their tanks. */

import { LAST } from "../../purge/machine.js";
import { latestIds, wayOf } from "./backwards.js";
import { entriesUnder } from "./ranges.js";
import { getEach } from "./record.js";
import { withoutTombstones } from "./slices.js";
import { isSound } from "./sound.js";

const AT_ONCE = 4; // entries read at a time on the way back

/** @returns {Promise<object|null>} the round that is under way, else the last one; null where there is none */
export async function latestRound() {
  const ids = await latestIds(wayOf("round"), AT_ONCE);
  const rounds = (await getEach(ids)).filter((entry) => entry && !entry.deleted);
  return rounds.find(({ body }) => body.ended === null) ?? rounds[0] ?? null;
}

/** @returns {Promise<object[]>} the rounds that were begun after an instant, or are under way, the latest first */
export async function roundsSince(instant) {
  const rounds = (await entriesUnder("by-day", ["round"], instant)).reverse();
  const latest = await latestRound();
  const isMore = latest !== null && latest.body.ended === null && !rounds.some(({ id }) => id === latest.id);
  return isMore ? [...rounds, latest] : rounds;
}

/** @returns {Promise<Map<string, object>>} by tank, the latest purge of it that is under way, or was made in the round */
export async function purgesOf({ created, body }) {
  const isOfRound = (entry) => (body.ended === null
    ? entry.body.open === 1 || entry.created >= created
    : entry.created >= created && entry.created <= body.ended);
  const found = await Promise.all(body.tanks.map(({ tank }) => lastOf(tank, isOfRound, created)));
  return new Map(body.tanks.map(({ tank }, place) => [tank, found[place]]).filter(([, purge]) => purge !== null));
}

/** The newest finished purge of a tank: of thousands, only the newest few are read. */
export function lastFinished(tank) {
  return lastOf(tank, ({ body }) => body.state === LAST);
}

async function lastOf(tank, isRight, since = "") {
  for await (const { found: some } of withoutTombstones(wayOf("purge", tank), AT_ONCE)) {
    const entries = some.map(([, entry]) => entry).filter(isSound);
    const found = entries.find(isRight);
    if (found) return found;
    if (entries.length && entries.at(-1).created < since) return null;
  }
  return null;
}
