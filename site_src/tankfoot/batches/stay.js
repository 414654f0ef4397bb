/** A tank with what is in it and what was done to it, made from entries of the record. Twin of stay.py. */

import { LAST } from "../purge/machine.js";
import { endOf } from "../tanks/due.js";
import { events as kinds } from "./declared.js";
import { inOrder, lifeIn } from "./life.js";

/**
 * The stay of the batch that a tank holds, as dueItems of due.js wants it.
 *
 * @param {any} tank an entry
 * @param {{events: any[], elsewhere: any[], purges: any[], readings: any[], postponed: any[], held: boolean}} told
 *   entries of the tank; `elsewhere` the events that the batch had in other tanks
 */
export function stayOf(tank, told) {
  const life = lifeIn(told.events.filter(isThere));
  const { since } = life;
  const finished = told.purges.filter((purge) => isThere(purge) && purge.body.state === LAST)
    .map((purge) => ({ id: purge.id, at: endOf(purge) }));
  const read = told.readings.filter((each) => isThere(each) && each.body.pressure !== null)
    .map(({ id, body }) => ({ id, at: body.at }));
  const filled = since === null ? [] : [{ id: tank.id, at: since }];
  return {
    tank: tank.id,
    batch: life.batch,
    since,
    entries: life.events,
    events: [...carried(told.elsewhere, tank.id, life), ...life.events.map(plain)],
    purges: from(since, finished),
    readings: from(since, read),
    held: told.held,
    postponed: postponed(told.postponed),
    every: since !== null && life.batch === null ? null : tank.body.purge_every,
    last: inTime([{ id: tank.id, at: tank.created }, ...filled, ...finished]).at(-1),
  };
}

function isThere({ deleted }) {
  return !deleted;
}

function plain({ id, body: { event, at, days } }) {
  return { id, event, at, days };
}

/** What stays true of a batch that came from another tank, the latest of each kind, from when it came in. */
function carried(events, tank, { batch, since }) {
  const found = new Map();
  for (const event of inOrder(events.filter(isThere))) {
    const { body } = event;
    if (body.batch !== batch || body.tank === tank || body.at > since || !kinds[body.event].carried) continue;
    found.set(body.event, { ...plain(event), at: since });
  }
  return [...found.values()];
}

function from(since, acts) {
  return inTime(acts).filter(({ at }) => since === null || at >= since);
}

function inTime(acts) {
  const key = ({ at, id }) => at + id;
  return [...acts].sort((a, b) => (key(a) < key(b) ? -1 : 1));
}

/** By the key of an item, until when; what was said last counts. */
function postponed(entries) {
  const key = ({ edited, id }) => edited + id;
  const byEdit = entries.filter(isThere).sort((a, b) => (key(a) < key(b) ? -1 : 1));
  return Object.fromEntries(byEdit.map(({ body }) => [body.item, body.until]));
}
