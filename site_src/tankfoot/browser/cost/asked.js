/** What the page asks, answered out of the record alone: with the tanks in it, and what costs are held against. */

import { basisOf, pricesOf } from "../../report/basis.js";
import { ofKind } from "../storage/record.js";
import { answer } from "./reckoned.js";

/**
 * @param {{period: string, tank: string, by: string, zone: string, system: string, beerValue: string|null}} asked
 *   `beerValue`: what beer is worth by this phone's settings, where the basis does not say
 * @param {(told: any) => Promise<void>|void} tell
 */
export async function answerTo({ beerValue, ...asked }, tell) {
  const [tanks, bases] = await Promise.all([ofKind("tank"), ofKind("cost-basis")]);
  const basis = basisOf(bases);
  const body = basis?.body ?? { beer_value: null, gas_price: null, wage: null, since: null, until: null };
  const prices = pricesOf({ ...body, beer_value: body.beer_value ?? beerValue }, asked.system);
  const names = tanks.map(({ id, body: { name } }) => [id, name]);
  const tank = names.some(([id]) => id === asked.tank) ? asked.tank : "";
  await answer({ ...asked, tank, names, prices, since: body.since, until: body.until }, (told) => tell({ ...told, tanks, tank, basis }));
}
