/** The text people read for a number: the same to the character in both languages. Twin of format.py. */

import { units } from "./declared.js";

const SIGNIFICANT = 3;
const MOST_SIGNIFICANT = 5;
const LARGE = 9;
const SMALL = -7;
const MINUS = "\u2212";
const MONEY_SIGN = "$";
const COUNT_SIGN = "times";
const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

/**
 * A number brought to twelve significant digits: twelve digits as a whole number, times ten to (power - 11).
 * @typedef {{negative: boolean, digits: number, power: number}} Decimal
 */

/** @returns {Decimal} */
function twelve(value) {
  const [digits, power] = Math.abs(value).toExponential(11).split("e");
  return { negative: value < 0.0, digits: Number(digits.replace(".", "")), power: Number(power) };
}

/** A decimal at so many decimals, as a whole number of the last one: half away from zero, as on paper. */
function whole({ digits, power }, decimals) {
  const shift = power - 11 + decimals;
  if (digits === 0 || shift < -12) return "0";
  if (shift >= 0) return `${digits}${"0".repeat(shift)}`;
  const cut = Number(`1e${-shift}`);
  const left = digits % cut;
  return String((digits - left) / cut + (2 * left >= cut ? 1 : 0));
}

/** The power of ten of the first digit once a decimal is rounded to `significant` digits. */
function exponent(decimal, significant) {
  const { length } = whole(decimal, significant - 1 - decimal.power);
  return decimal.power + length - significant;
}

function fixed(decimal, decimals) {
  const digits = whole(decimal, decimals);
  const sign = decimal.negative && /[1-9]/.test(digits) ? MINUS : "";
  if (decimals <= 0) return sign + (digits === "0" ? digits : digits + "0".repeat(-decimals));
  const text = digits.padStart(decimals + 1, "0");
  return `${sign}${text.slice(0, -decimals)}.${text.slice(-decimals)}`;
}

function asPower(decimal, decimals, power) {
  const superscript = String(power).replace("-", "⁻").replace(/[0-9]/g, (d) => SUPERSCRIPTS[d]);
  return `${fixed({ ...decimal, power: decimal.power - power }, decimals)}×10${superscript}`;
}

export function formatNumber(number, significant = SIGNIFICANT) {
  const value = twelve(number);
  if (value.digits === 0) return "0";
  const power = exponent(value, significant);
  if (power >= LARGE || power <= SMALL) return asPower(value, significant - 1, power);
  return fixed(value, Math.max(0, significant - 1 - power));
}

export function formatPlain(value, significant = MOST_SIGNIFICANT) {
  const text = formatNumber(value, significant);
  return text.includes(".") && !text.includes("×") ? text.replace(/\.?0+$/, "") : text;
}

/** An SI value as plain text in a unit. */
export function formatIn(si, symbol, significant = MOST_SIGNIFICANT) {
  const { factor, offset } = units[symbol];
  return withUnit(formatPlain((si - offset) / factor, significant), symbol);
}

export function formatPair(number, spread) {
  const [value, uncertainty] = [twelve(number), twelve(spread)];
  if (uncertainty.digits === 0) return [formatNumber(number), "0"];
  const power = exponent(uncertainty, 2);
  const first = value.digits ? exponent(value, 2) : power;
  let decimals = Math.min(1 - power, MOST_SIGNIFICANT - 1 - first);
  let texts;
  if (Math.max(first, power) >= LARGE || Math.max(first, power) <= SMALL) {
    const shared = value.digits ? Math.max(exponent(value, SIGNIFICANT), power) : power;
    texts = [value, uncertainty].map((decimal) => asPower(decimal, decimals + shared, shared));
  } else {
    decimals = Math.min(1 - power, Math.max(0, decimals));
    texts = [value, uncertainty].map((decimal) => fixed(decimal, decimals));
  }
  return [texts[0], 1 - power <= decimals ? texts[1] : formatNumber(spread, 2)];
}

/**
 * @param {number} si
 * @param {number|null} uncertainty
 * @param {string} symbol
 * @returns {{text: string, give_or_take: string|null}}
 */
export function formatResult(si, uncertainty, symbol) {
  const unit = units[symbol];
  const value = (si - unit.offset) / unit.factor;
  if (uncertainty === null) {
    return { text: withUnit(alone(value, symbol), symbol), give_or_take: null };
  }
  const [number, spread] = formatPair(value, uncertainty / unit.factor);
  return { text: withUnit(number, symbol), give_or_take: `± ${withUnit(spread, symbol)}` };
}

function alone(value, symbol) {
  if (symbol === MONEY_SIGN) return fixed(twelve(value), 2);
  return symbol === COUNT_SIGN && isWhole(twelve(value)) ? formatPlain(value, SIGNIFICANT) : formatNumber(value);
}

function isWhole({ digits, power }) {
  return digits === 0 || power >= 11 || (power >= 0 && digits % Number(`1e${11 - power}`) === 0);
}

export function withUnit(number, symbol) {
  if (symbol === COUNT_SIGN) return number;
  if (symbol.startsWith(MONEY_SIGN)) {
    const sign = number.startsWith(MINUS) ? MINUS : "";
    return `${sign}${MONEY_SIGN}${number.replace(MINUS, "")}${symbol.slice(1)}`;
  }
  return `${number} ${symbol}`;
}
