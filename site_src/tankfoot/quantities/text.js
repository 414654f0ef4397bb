/** The text a person types for a quantity. Twin of text.py. */

import { dimensions, kinds, symbolsByName, units } from "./declared.js";

const SYMBOLS = new Map(Object.entries(symbolsByName)); // a map knows no "constructor"
export const LONGEST_TEXT = 64;
const SPACES = /[ \t\u00a0\u2009\u202f]+/g;
const MINUS_SIGNS = /[\u2212\u2013\u2012\ufe63\uff0d]/g;
const PLUS_MINUS = /±|\+\/-/;
const NUMBER = /^([+-]?)([0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)([eE][+-]?[0-9]{1,3})? ?([^0-9.,+-].*)?$/s;
const NOT_FINITE = /^[+-]?(nan|inf|infinity|∞)( .*)?$/s;
const COMMA_AND_THREE_DIGITS = /^[1-9][0-9]{0,2},[0-9]{3}$/;

/** A text that is not a quantity. `code` is a stable word shared with Python. */
export class RefusedText extends Error {
  constructor(code) {
    super(code);
    this.code = code;
  }
}

/**
 * @typedef {{value: number, unit: string, si: number, uncertainty: number|null}} Reading
 *
 * @param {string} text
 * @param {string} kind the kind of quantity
 * @param {string} bareUnit the unit of a number that comes without one
 * @returns {Reading}
 */
export function readQuantity(text, kind, bareUnit) {
  if ([...text].length > LONGEST_TEXT) throw new RefusedText("too-long");
  const tidy = trim(text.replace(SPACES, " ").replace(MINUS_SIGNS, "-"));
  if (!tidy) throw new RefusedText("empty");
  const [middle, ...rest] = tidy.split(PLUS_MINUS);
  if (rest.length > 1) throw new RefusedText("bad-uncertainty");
  let [value, unitName] = readNumber(trim(middle));
  const [spread, spreadUnit] = rest.length ? readSpread(trim(rest[0])) : [null, null];
  if (spreadUnit && !unitName && spreadUnit !== "%") unitName = spreadUnit;
  const unit = unitName ? findUnit(unitName, kind) : units[bareUnit];
  const si = value * unit.factor + unit.offset;
  /** @type {number|null} */
  let uncertainty = null;
  if (spread !== null) {
    if (spreadUnit === "%" && unit.symbol !== "%") uncertainty = Math.abs(si) * spread / 100.0;
    else uncertainty = spread * (spreadUnit ? findUnit(spreadUnit, kind) : unit).factor;
  }
  if (!Number.isFinite(si) || !Number.isFinite(uncertainty ?? 0.0)) throw new RefusedText("not-finite");
  return { value, unit: unit.symbol, si, uncertainty };
}

function trim(text) {
  return text.replace(/^ | $/g, "");
}

function readNumber(text) {
  if (NOT_FINITE.test(text.toLowerCase())) throw new RefusedText("not-finite");
  const match = NUMBER.exec(text);
  if (!match) throw new RefusedText("not-a-number");
  const [, sign, digits, exponent, unitName] = match;
  if (COMMA_AND_THREE_DIGITS.test(digits)) throw new RefusedText("ambiguous-number");
  return [Number(sign + digits.replace(",", ".") + (exponent ?? "")), trim(unitName ?? "")];
}

function readSpread(text) {
  let read;
  try {
    read = readNumber(text);
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    throw new RefusedText("bad-uncertainty");
  }
  if (read[0] < 0.0) throw new RefusedText("bad-uncertainty");
  return read;
}

function findUnit(name, kind) {
  const symbol = SYMBOLS.get(normalized(name));
  if (symbol === undefined) throw new RefusedText("unknown-unit");
  const unit = units[symbol];
  if (unit.dimension !== dimensions[kind]) throw new RefusedText("wrong-dimension");
  return unit;
}

function normalized(name) {
  return name.replace(/[ °º*]/g, "").replace(/[A-Z]/g, (c) => c.toLowerCase()).replaceAll("³", "3");
}

/** The units a kind of quantity is offered in within a system. */
export function offered(kind, system) {
  return kinds[kind][system];
}
