/** What a cost is held against: prices, and the purges that "saved" is counted from. Twin of basis.py. */

import { offered, readQuantity } from "../quantities/text.js";
import { PRICES } from "./meaning.js";

/** The entry that counts: the one edited last, of one instant the greater id; null of none. */
export function basisOf(bases) {
  const key = ({ edited, id }) => edited + id;
  return bases.filter(({ deleted }) => !deleted).reduce((last, each) => (last && key(last) >= key(each) ? last : each), null);
}

/** The prices of a basis in SI; null of one that is not known. @returns {import("./measures.js").Prices} */
export function pricesOf(body, system) {
  return /** @type {any} */ (Object.fromEntries(Object.entries(PRICES).map(([name, kind]) => (
    [name, body[name] ? readQuantity(body[name], kind, offered(kind, system)[0]).si : null]
  ))));
}
