/** Which batch is in a tank, since when, how much beer, and what has happened to it there. Twin of life.py. */

import { offered, readQuantity } from "../quantities/text.js";
import { events as kinds } from "./declared.js";

/** @typedef {{id: string, body: any}} Event an entry of kind "batch-event" */

/** As they happened; of one instant by their ids, on every phone alike. @param {Event[]} events */
export function inOrder(events) {
  const key = ({ id, body }) => body.at + id;
  return [...events].sort((a, b) => (key(a) < key(b) ? -1 : 1));
}

/**
 * What a tank holds after all of its events; of a tank that was emptied `batch` is null, of one that nobody ever filled
 * `since` too.
 *
 * @param {Event[]} events @returns {{batch: string|null, since: string|null, events: Event[]}}
 */
export function lifeIn(events) {
  /** @type {{batch: string|null, since: string|null, events: Event[]}} */
  let life = { batch: null, since: null, events: [] };
  for (const event of inOrder(events)) {
    const { batch, at, event: name } = event.body;
    if (kinds[name].fills && batch !== life.batch) life = { batch, since: at, events: [] };
    if (kinds[name].empties && batch === life.batch) life = { batch: null, since: at, events: [] };
    else if (life.batch !== null && batch === life.batch) life.events.push(event);
  }
  return life;
}

/** The id of the batch that a tank held at an instant; null where it held none. @param {Event[]} events */
export function batchAt(events, instant) {
  return batchIn(changesOf(events), instant);
}

/** What a tank holds from when on, by all of its events. @param {Event[]} events @returns {[string, string|null][]} */
export function changesOf(events) {
  let held = null;
  return inOrder(events).map(({ body: { event, batch, at } }) => {
    if (kinds[event].fills) held = batch;
    if (kinds[event].empties && batch === held) held = null;
    return [at, held];
  });
}

/** The same from what `changesOf` made of a tank's events: for years of purges, one after the other. */
export function batchIn(changes, instant) {
  let [low, high] = [0, changes.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (changes[middle][0] <= instant) low = middle + 1;
    else high = middle;
  }
  return low > 0 ? changes[low - 1][1] : null;
}

/**
 * The beer that follows from the events of a stay and what its purges lost, m³; null where no filling says how much.
 *
 * @param {Event[]} events @param {({value: number, uncertainty: number|null}|null)[]} losses
 * @returns {{value: number, uncertainty: number, unknown: number}|null} `unknown`: of how many nobody said the amount
 */
export function beerIn(events, losses, system) {
  /** @type {([number, number|null]|null)[]} */
  const moved = [
    ...events.filter(({ body }) => kinds[body.event].sign !== 0).map(({ body }) => movedBy(body, system)),
    ...losses.map(lostBy),
  ];
  const known = moved.flatMap((amount) => (amount === null ? [] : [amount]));
  if (!known.some(([value]) => value > 0.0)) return null;
  const squares = known.reduce((sum, [, spread]) => sum + (spread ?? 0.0) * (spread ?? 0.0), 0.0);
  const value = Math.max(0.0, known.reduce((sum, [each]) => sum + each, 0.0));
  return { value, uncertainty: Math.sqrt(squares), unknown: moved.length - known.length };
}

/** @returns {[number, number|null]|null} */
function lostBy(loss) {
  return loss === null ? null : [-loss.value, loss.uncertainty];
}

/** @returns {[number, number|null]|null} */
function movedBy({ event, amount }, system) {
  if (amount === null) return null;
  const { amount: kind, sign } = kinds[event];
  if (kind === null) return null;
  const { si, uncertainty } = readQuantity(amount, kind, offered(kind, system)[0]);
  return [sign * si, uncertainty];
}
