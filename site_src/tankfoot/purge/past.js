/** What was: of purges that are over, the numbers that the next one learns from. Twin of past.py. */

import { secondsBetween } from "../record/age.js";
import { wasSetBack } from "./clock.js";
import { standing } from "./machine.js";
import { changeAfter, runTimes } from "./times.js";

const DAY = 86400.0; // s
const LONGEST_REST = 14.0;

/**
 * Of the bodies of purges whose port was opened and shut, in time: the seconds until the colour changed, the days of
 * rest before it and the beer lost (m3), each null where nothing tells it.
 *
 * @typedef {{tank: string, solids: string, opened: string, closed: string, seconds: number|null, rest: number|null, loss: number|null}} Was
 * @param {any[]} purges @param {Record<string, string[]>} fillings when each tank got another beer: no rest lies across that
 * @returns {Was[]}
 */
export function pastOf(purges, fillings = {}) {
  const told = purges.filter((body) => body.tank !== null && wasSetBack(...runTimes(body)) === false).map((body) => ({ body, opened: instantIn(body.events, "opened"), closed: instantIn(body.events, "closed") }));
  const last = new Map();
  return told.sort((a, b) => (a.opened < b.opened ? -1 : Number(a.opened > b.opened))).map(({ body, opened, closed }) => {
    const { tank, solids, result } = body;
    const rest = restBetween(last.get(tank) ?? null, opened, Object.hasOwn(fillings, tank) ? fillings[tank] : []);
    last.set(tank, closed);
    return { tank, solids, opened, closed, seconds: changeAfter(body), rest, loss: beerLost(result) };
  });
}

/**
 * Days from one purge's end to the next one's beginning; null where that is no rest of one beer. All are instants.
 *
 * @param {string|null} closed @param {string} opened @param {string[]} fillings
 */
export function restBetween(closed, opened, fillings = []) {
  if (closed === null || fillings.some((at) => closed < at && at <= opened)) return null;
  const days = secondsBetween(closed, opened) / DAY;
  return days > 0.0 && days <= LONGEST_REST ? days : null;
}

function beerLost(result) {
  const { beer_in_solids: carried, overrun } = result;
  return carried && overrun ? carried.value + overrun.value : null;
}

function instantIn(events, name) {
  return standing(events).findLast(({ event }) => event === name)?.at ?? null;
}
