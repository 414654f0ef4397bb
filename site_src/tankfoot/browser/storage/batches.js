/** Batches in the record: what a tank holds, the whole life of a batch, and what one tap at a tank writes. */

import { beerIn, batchAt, inOrder, lifeIn } from "../../batches/life.js";
import { events as kinds } from "../../batches/declared.js";
import { LAST } from "../../purge/machine.js";
import { formatIn } from "../../quantities/format.js";
import { offered, readQuantity } from "../../quantities/text.js";
import { tankProblems } from "../../tanks/meaning.js";
import { refreshCurrentTank } from "./current_tank.js";
import { entriesUnder } from "./ranges.js";
import { corrected, edited, get, newEntry, put } from "./record.js";
import { settings } from "./settings.js";
import { eventsOf } from "./stays.js";

/**
 * @typedef {{added: any[], tanks: {before: any, after: any}[], left: string[]}} Act what one tap writes: entries, tanks
 *   as they were and as they are then, and the names of those whose volume stays because it would not fit
 */

/**
 * What a tank holds, else held last: `batch` its entry, null where nobody said or the phone lost it; `story` all that
 * happened to it, in every tank; `purges` of it, each with the tank it was in; `beer` that follows for what is in now.
 */
export async function batchIn(tank) {
  const events = await eventsOf(tank.id);
  const life = lifeIn(events);
  const id = life.batch ?? inOrder(events).at(-1)?.body.batch ?? null;
  if (id === null) return { life, id, batch: null, story: [], purges: [], beer: null, moved: 0 };
  const [batch, story] = await Promise.all([get(id, "batch"), entriesUnder("of-batch-at", ["batch-event", id])]);
  const purges = await purgesOf(id, story);
  const here = purges.filter(({ body, created }) => body.tank === tank.id && created >= life.since && body.state === LAST);
  const losses = here.map(({ body }) => body.result.volume_lost ?? null);
  const moved = life.events.filter(({ body }) => kinds[body.event].sign !== 0).length + losses.length;
  return { life, id, batch, story: inOrder(story), purges, beer: beerIn(life.events, losses, settings().system), moved };
}

/** The purges of a batch, in the order of time: of each tank those that began while the batch was in it. */
async function purgesOf(id, story) {
  const tanks = [...new Set(story.map(({ body }) => body.tank))];
  const found = await Promise.all(tanks.map(async (tank) => {
    const since = story.find(({ body }) => body.tank === tank).body.at;
    const [events, purges] = await Promise.all([
      entriesUnder("of-tank-at", ["batch-event", tank], since), entriesUnder("of-tank-by-day", ["purge", tank], since),
    ]);
    return purges.filter(({ created }) => batchAt(events, created) === id);
  }));
  return found.flat().sort((a, b) => (a.created < b.created ? -1 : 1));
}

/** The name of the beer that was in a tank at an instant; null where nobody said. */
export async function beerAt(tank, instant) {
  const id = tank && batchAt(await entriesUnder("of-tank-at", ["batch-event", tank]), instant);
  return id ? (await get(id, "batch"))?.body.beer ?? null : null;
}

/** An event of a batch in a tank, not yet written. A demo tank's is a demo entry. */
function eventOf(tank, batch, event, at, { amount = null, days = null, note = null } = {}) {
  const body = {
    batch, tank: tank.id, tank_name: tank.body.name, event, at, amount, days, note, by: settings().initials || null,
  };
  return { ...newEntry("batch-event", body), demo: tank.demo };
}

/** Anything but a filling or a move: it happens to the batch that is in the tank. @returns {Act} */
export function happened(tank, batch, event, typed = {}) {
  const added = [eventOf(tank, batch, event, now(), typed)];
  if (kinds[event].empties) return act(added, [[tank, 0]]);
  const change = kinds[event].sign * (siOf(event, typed.amount) ?? 0);
  return act(added, change === 0 ? [] : [[tank, tank.body.beer_volume + change]]);
}

/**
 * A filling: of more of the batch that is in, or of another beer. `held` is what the tank holds besides, and `isOut`
 * whether that had been let out before; else the beer comes on top of it and the two are one from then on.
 *
 * @returns {Act}
 */
export function filled(tank, { beer, batch, amount, held = null, isOut = false, beerLeft = null }) {
  const at = now();
  const entry = batch ? null : { ...newEntry("batch", { beer, notes: null }), demo: tank.demo };
  const id = batch ?? entry.id;
  const others = held ? givenWay(tank, held, id, at, { isOut, beerLeft }) : [];
  const stays = batch || (held && !isOut) ? tank.body.beer_volume : 0;
  const added = [...(entry ? [entry] : []), ...others, eventOf(tank, id, "filled", at, { amount })];
  const known = siOf("filled", amount);
  return act(added, known === null ? [] : [[tank, stays + known]]);
}

/** The batch moves to another tank, all of it, at one instant; `held`, `isOut` and `beerLeft` of that tank, as above. */
export function moved(from, to, batch, { amount, held = null, isOut = false, isMore = false, beerLeft = null }) {
  const at = now();
  const added = [
    eventOf(from, batch, "moved-out", at, { amount }), ...(held ? givenWay(to, held, batch, at, { isOut, beerLeft }) : []),
    eventOf(to, batch, "moved-in", at, { amount }),
  ];
  const stays = isMore || (held && !isOut) ? to.body.beer_volume : 0;
  return act(added, [[from, 0], [to, stays + (siOf("moved-in", amount) ?? from.body.beer_volume)]]);
}

/** What becomes of the batch that a tank holds as another comes in: let out before, or one with it from then on. */
function givenWay(tank, held, batch, at, { isOut, beerLeft }) {
  if (isOut) return [eventOf(tank, held.id, "emptied", at)];
  const unit = offered(kinds["moved-in"].amount, settings().system)[0];
  const spread = beerLeft?.uncertainty ? ` ± ${formatIn(beerLeft.uncertainty, unit, 2)}` : "";
  const amount = beerLeft ? `${formatIn(beerLeft.value, unit)}${spread}` : null;
  const note = held.batch?.body.beer ?? null;
  return [eventOf(tank, held.id, "moved-out", at, { amount }), eventOf(tank, batch, "moved-in", at, { amount, note })];
}

/** The tank's own volume as it follows from the events. @returns {Act} */
export function takenOver(tank, volume) {
  return act([], [[tank, volume]]);
}

/** Writes an act at once, all of it or nothing. */
export async function write({ added, tanks }) {
  await put(...added, ...tanks.map(({ after }) => after));
  for (const { after } of tanks) refreshCurrentTank(after);
  return true;
}

/** Takes an act back. A tank that was changed since stays as it is. */
export async function takeBack({ added, tanks }) {
  const stored = await Promise.all(tanks.map(({ after }) => get(after.id, "tank")));
  const back = stored.flatMap((entry, place) => (
    entry?.edited === tanks[place].after.edited ? [edited(entry, tanks[place].before.body)] : []
  ));
  await put(...added.map(deleted), ...back);
  for (const entry of back) refreshCurrentTank(entry);
  return true;
}

/**
 * An event with what was mended of it, and its batch under another name; the two of a move are mended together, and what
 * was there before is kept.
 */
export async function mend(event, changes, batch, beer) {
  const isChanged = Object.entries(changes).some(([name, value]) => event.body[name] !== value);
  const each = isChanged ? await bothOf(event) : [];
  const named = batch && beer !== batch.body.beer ? [corrected(batch, { ...batch.body, beer })] : [];
  const mended = [...each.map((entry) => corrected(entry, { ...entry.body, ...changes })), ...named];
  if (mended.length) await put(...mended);
  return true;
}

/** Takes an event out, the other one of a move with it. @returns {Promise<Act>} to have them back */
export async function takeOut(event) {
  const gone = (await bothOf(event)).map(deleted);
  await put(...gone);
  return { added: gone, tanks: [], left: [] };
}

/** Has back what was taken out. */
export async function haveBack({ added }) {
  return put(...added.map((entry) => edited(entry, entry.body, { deleted: false })));
}

async function bothOf(event) {
  const { batch, at, event: name } = event.body;
  if (!["moved-in", "moved-out"].includes(name)) return [event];
  const same = await entriesUnder("of-batch-at", ["batch-event", batch], at);
  const other = same.find(({ body }) => body.at === at && body.event !== name && body.event.startsWith("moved"));
  return other ? [event, other] : [event];
}

function act(added, volumes) {
  const tanks = [];
  const left = [];
  for (const [before, volume] of volumes) {
    const body = { ...before.body, beer_volume: Math.max(0, volume) };
    const isMuch = tankProblems(body).some(([place]) => place === "beer_volume");
    if (isMuch) left.push(before.body.name);
    else if (body.beer_volume !== before.body.beer_volume) tanks.push({ before, after: edited(before, body) });
  }
  return { added, tanks, left };
}

function siOf(event, amount) {
  const { amount: kind } = kinds[event];
  return amount ? readQuantity(amount, kind, offered(kind, settings().system)[0]).si : null;
}

function deleted(entry) {
  return edited(entry, entry.body, { deleted: true });
}

function now() {
  return new Date().toISOString();
}
