/** What a text of a list or card shows on a phone: its places in {braces} filled in. Twin of shown.py. */

import { formatPlain, withUnit } from "../quantities/format.js";
import { kinds, units as known } from "../quantities/declared.js";
import { standardOf, standards } from "./declared.js";

const PLACE = /\{([^{}]*)\}/g;
const QUANTITY = /^([0-9]+(?:\.[0-9]+)?) (.+)$/;
const DIGITS = 2;
const NAMES = ["co2_limits", "eyewash"];

/**
 * @param {string} region whose limits are shown, "" for none @param {Object<string, string>} units by kind of quantity
 * @returns {string} a place that is of no known kind stays as it is
 */
export function shown(text, region, units) {
  return text.replace(PLACE, (all, place) => {
    if (NAMES.includes(place)) return ofRegion(place, region);
    const [, number, symbol] = QUANTITY.exec(place) ?? [];
    const kind = kindOf(symbol);
    return kind === null ? all : inUnit(Number(number), symbol, units[kind], place);
  });
}

function ofRegion(name, region) {
  const own = Object.hasOwn(standardOf, region) ? standardOf[region] : null;
  if (own !== null) return standards[own][name];
  return Object.values(standards).map((standard) => `${standard.named}: ${standard[name]}`).join(" ");
}

function inUnit(number, symbol, wanted, place) {
  if (symbol === wanted) return place;
  const [given, unit] = [known[symbol], known[wanted]];
  const si = number * given.factor + given.offset;
  return withUnit(formatPlain((si - unit.offset) / unit.factor, DIGITS), wanted);
}

/** The first kind of quantity that is offered in a unit, null for none. */
export function kindOf(symbol) {
  return Object.keys(kinds).find((kind) => Object.values(kinds[kind]).some((offer) => offer.includes(symbol))) ?? null;
}
