/** A number without a unit, as a hand types it in this region. */

import { local } from "../../quantities/locale.js";

const NUMBER = /^[0-9]+(?:[.,][0-9]+)?$/;
const MAY_BE_THOUSANDS = /^[1-9][0-9]{0,2},[0-9]{3}$/; // refused, as text.js refuses it of a quantity

/** @param {string} typed @returns {number|null} null where it is none */
export function plainNumber(typed) {
  const text = local(typed.trim());
  return NUMBER.test(text) && !MAY_BE_THOUSANDS.test(text) ? Number(text.replace(",", ".")) : null;
}
