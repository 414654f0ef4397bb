/** What the page asks, answered out of the record alone: with the tanks in it, and what costs are held against. */

import { basisOf, pricesOf } from "../../report/basis.js";
import { getEach, ofKind } from "../storage/record.js";
import { monthsOfRecord } from "./months.js";
import { answer, eventsOfBatches } from "./reckoned.js";

/** What an answer is made of, all of it asked of the record at once: a thread begins before it knows what is asked. */
export function readFor(zone) {
  const months = monthsOfRecord(zone);
  return {
    zone, tanks: ofKind("tank"), bases: ofKind("cost-basis"), events: eventsOfBatches(),
    months, first: months.next(),
  };
}

/**
 * @param {{period: string, tank: string, by: string, zone: string, system: string, beerValue: string|null}} asked
 *   `beerValue`: what beer is worth by this phone's settings, where the basis does not say
 * @param {(told: any) => Promise<void>|void} tell
 */
export async function answerTo({ beerValue, ...asked }, tell, read = readFor(asked.zone)) {
  const [tanks, bases, events] = await Promise.all([read.tanks, read.bases, read.events]);
  const basis = basisOf(bases);
  const body = basis?.body ?? { beer_value: null, gas_price: null, wage: null, since: null, until: null };
  const prices = pricesOf({ ...body, beer_value: body.beer_value ?? beerValue }, asked.system);
  const names = tanks.map(({ id, body: { name } }) => [id, name]);
  const tank = names.some(([id]) => id === asked.tank) ? asked.tank : "";
  const whole = { ...asked, tank, names, prices, since: body.since, until: body.until };
  await answer(whole, async (told) => tell({ ...told, tanks, tank, basis, beers: await beersOf(asked.by, told) }), events, from(read));
}

/** The months, of which somebody has asked for the first already. */
async function* from({ first, months }) {
  const { value, done } = await first;
  if (!done) yield value;
  yield* months;
}

/** Beer and first day of the batches that are told, by id. */
async function beersOf(by, { groups = [], batches = [] }) {
  if (by !== "batches") return [];
  const found = await getEach([...new Set([...groups, ...batches].map(([id]) => id))]);
  return found.filter((entry) => entry?.kind === "batch").map(({ id, body: { beer }, created }) => [id, { beer, created }]);
}
