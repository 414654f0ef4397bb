/** The text people read for a number: the same to the character in both languages. Twin of format.py. */

import { units } from "../calculators/declarations.js";

const SIGNIFICANT = 3;
const MOST_SIGNIFICANT = 5;
const LARGE = 9;
const SMALL = -7;
const MINUS = "\u2212";
const MONEY_SIGN = "$";
const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

function twelve(value) {
  return Number(value.toPrecision(12));
}

/** toExponential and toFixed work on the exact binary value and round half away from zero. */
function exponent(value, significant) {
  return Number(value.toExponential(significant - 1).split("e")[1]);
}

function fixed(value, decimals) {
  const text = Math.abs(value).toFixed(decimals);
  return (value < 0.0 && /[1-9]/.test(text) ? MINUS : "") + text;
}

function asPower(value, significant) {
  const power = exponent(value, significant);
  const [digits, ownPower] = value.toExponential(11).split("e");
  const mantissa = Number(`${digits}e${Number(ownPower) - power}`);
  const superscript = String(power).replace("-", "⁻").replace(/[0-9]/g, (d) => SUPERSCRIPTS[d]);
  return `${fixed(mantissa, significant - 1)}×10${superscript}`;
}

export function formatNumber(number, significant = SIGNIFICANT) {
  const value = twelve(number);
  if (value === 0.0) return "0";
  const power = exponent(value, significant);
  if (power >= LARGE || power <= SMALL) return asPower(value, significant);
  return fixed(value, Math.max(0, significant - 1 - power));
}

export function formatPlain(value, significant = MOST_SIGNIFICANT) {
  const text = formatNumber(value, significant);
  return text.includes(".") && !text.includes("×") ? text.replace(/\.?0+$/, "") : text;
}

export function formatPair(number, spread) {
  const [value, uncertainty] = [twelve(number), twelve(spread)];
  if (uncertainty === 0.0) return [formatNumber(value), "0"];
  const power = exponent(uncertainty, 2);
  const first = value ? exponent(value, 2) : power;
  if (Math.max(first, power) >= LARGE || Math.max(first, power) <= SMALL) {
    return [formatNumber(value), formatNumber(uncertainty, 2)];
  }
  const decimals = Math.max(0, Math.min(1 - power, MOST_SIGNIFICANT - 1 - first));
  if (1 - power > decimals) return [fixed(value, decimals), formatNumber(uncertainty, 2)];
  return [fixed(value, decimals), fixed(uncertainty, decimals)];
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
    const number = symbol === MONEY_SIGN ? fixed(twelve(value), 2) : formatNumber(value);
    return { text: withUnit(number, symbol), give_or_take: null };
  }
  const [number, spread] = formatPair(value, uncertainty / unit.factor);
  return { text: withUnit(number, symbol), give_or_take: `± ${withUnit(spread, symbol)}` };
}

export function withUnit(number, symbol) {
  if (symbol === "times") return number;
  if (symbol.startsWith(MONEY_SIGN)) {
    const sign = number.startsWith(MINUS) ? MINUS : "";
    return `${sign}${MONEY_SIGN}${number.replace(MINUS, "")}${symbol.slice(1)}`;
  }
  return `${number} ${symbol}`;
}
