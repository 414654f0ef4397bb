/** Whether the prices that a cost is reckoned with can be read by this app. Twin of meaning.py. */

import { unread } from "../batches/meaning.js";

export const PRICES = { beer_value: "beer_value", gas_price: "gas_price", wage: "wage" }; // and their kinds of quantity

/** What the body of a cost's basis, right in its shape, cannot mean. */
export function basisProblems(body) {
  return Object.entries(PRICES).flatMap(([name, kind]) => unread(name, body[name], [kind]));
}
