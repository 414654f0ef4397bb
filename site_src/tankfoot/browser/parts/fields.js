/** The fields of one sum on a page: what stands in them, in which unit, and the text that the sum takes. */

import { units } from "../../quantities/declared.js";
import { readField } from "../../calculators/reckon.js";
import { formatPlain } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { offered, readQuantity, RefusedText } from "../../quantities/text.js";
import { saveSettings, settings } from "../storage/settings.js";
import { currencyText } from "./currency.js";

export const PREFILLED = 3; // significant digits of what nobody typed
const PLUS_MINUS = /±|\+\/-/;
const BARE = /^\W?[0-9.,]+(?:[eE][+-]?[0-9]+)?$/;

/**
 * @typedef {object} Field
 * @property {string} name
 * @property {object} declared
 * @property {HTMLElement} box
 * @property {HTMLInputElement} entry
 * @property {HTMLSelectElement} unit
 * @property {HTMLInputElement|null} spread
 * @property {HTMLElement} problem
 * @property {string} sum the calculator's id
 * @property {Field|null} instead the other way to say the same: typing in one empties the other
 * @property {boolean} second the less usual of the two ways
 * @property {{shown: string, unit: string, text: string}|null} stands what an untouched number on the screen stands for
 */

/** @returns {Field[]} the fields of `declared` that stand in `root`, in their order */
export function findFields(root, declared) {
  return Object.entries(declared.fields).flatMap(([name, field]) => {
    const box = root.querySelector(`[data-field=${name}]`);
    return box ? [{
      name,
      declared: field,
      box,
      entry: box.querySelector("[data-entry]"),
      unit: box.querySelector("[data-unit]"),
      spread: root.querySelector(`[data-spread-of=${name}]`),
      problem: box.querySelector("[data-problem]"),
      sum: root.dataset.calculator,
      instead: null,
      second: false,
      stands: null,
    }] : [];
  });
}

/** Ties fields that say one thing in two ways. @param {string[][]} alternatives pairs of names, the usual one first */
export function pairUp(fields, alternatives) {
  for (const [first, second] of alternatives) {
    const [one, other] = [first, second].map((name) => fields.find((field) => field.name === name));
    Object.assign(one, { instead: other });
    Object.assign(other, { instead: one, second: true });
  }
}

/**
 * What stands in a field before anything is typed there: as it was sent, from the current tank, the site's own value,
 * or the example.
 */
export function startingText(field, sent) {
  if (sent.has(field.name)) return sent.get(field.name);
  if (isSaidInstead(field)) return "";
  return tankText(field) ?? settings().values[field.name] ?? field.declared.examples[settings().system] ?? "";
}

/** Whether the other way to say the same holds: it was typed, or it is the usual one. */
export function isSaidInstead({ instead, second }) {
  return instead !== null && (second || isTouched(instead));
}

/** What the current tank says of a field: for this sum alone, or for every field of the name. */
export function tankText({ sum, name, declared }) {
  const values = settings().tank?.values ?? {};
  return declared.kind === "absolute_pressure" ? undefined : values[`${sum}.${name}`] ?? values[name];
}

export function isTouched({ box }) {
  return box.hasAttribute("data-touched");
}

export function touch(field) {
  const { box, instead } = field;
  box.toggleAttribute("data-touched", true);
  field.stands = null;
  if (!instead) return;
  instead.box.toggleAttribute("data-touched", false);
  for (const input of [instead.entry, instead.spread]) if (input) input.value = "";
}

/** Offers this system's units, and picks the one last chosen for the kind of quantity. */
export function fillUnits(select) {
  const symbols = offered(select.dataset.kind, settings().system);
  const remembered = settings().units[select.dataset.kind];
  select.replaceChildren(...symbols.map((symbol) => new Option(currencyText(symbol), symbol)));
  select.value = symbols.includes(remembered) ? remembered : symbols[0];
}

export function rememberUnit(kind, symbol) {
  saveSettings({ units: { ...settings().units, [kind]: symbol } });
}

/** Puts a text into a field, its unit into the select; what is no quantity is shown as it is, to be mended. */
export function fill(field, text) {
  const reading = readOrNull(text, field.declared.kind, field.unit.value);
  if (reading === null) {
    field.entry.value = local(text);
    return;
  }
  if (![...field.unit.options].some((option) => option.value === reading.unit)) {
    field.unit.append(new Option(currencyText(reading.unit), reading.unit));
  }
  field.unit.value = reading.unit;
  field.entry.value = local(formatPlain(reading.value, 6));
  if (reading.uncertainty === null) return;
  const spread = local(formatPlain(reading.uncertainty / units[reading.unit].factor, 6));
  if (field.spread) field.spread.value = spread;
  else field.entry.value += ` ± ${spread}`;
}

/**
 * Shows what nobody typed in the unit that is chosen now, in a few digits; until a hand touches it, the sum takes all of
 * what it stands for.
 */
export function fillExample(field, text) {
  field.stands = null;
  const reading = readOrNull(text, field.declared.kind, field.unit.value);
  if (reading === null) {
    field.entry.value = "";
    return;
  }
  fill(field, text); // the unit may be one that is not on offer
  const symbol = settings().units[field.declared.kind] ?? reading.unit;
  showIn(field, reading.si, symbol, PREFILLED);
  field.stands = { shown: field.entry.value, unit: symbol, text: inUnit(text, reading.unit) };
}

/** Shows an SI value in a unit, with so many digits. */
export function showIn(field, si, symbol, digits = 5) {
  const { factor, offset } = units[symbol];
  field.unit.value = symbol;
  field.entry.value = local(formatPlain((si - offset) / factor, digits));
}

export function flipSign({ entry }) {
  const text = entry.value.trim();
  entry.value = /^[-\u2212]/.test(text) ? text.slice(1) : `\u2212${text}`;
}

/** A typed text whose number has no unit, with this one; a ± in percent stands behind it. */
export function inUnit(text, symbol) {
  const [value, spread] = text.split(PLUS_MINUS);
  if (!BARE.test(value.trim())) return text;
  if (spread === undefined || BARE.test(spread.trim())) return `${text} ${symbol}`;
  return spread.trim().endsWith("%") ? `${value.trim()} ${symbol} ${text.slice(value.length)}` : text;
}

/** The field's text as the sum takes it: number, unit and ±. */
export function textOf({ entry, unit, spread, stands }) {
  const typed = entry.value.trim();
  if (typed === "") return "";
  const isUntouched = stands !== null && stands.shown === entry.value && stands.unit === unit.value;
  const text = isUntouched ? stands.text : inUnit(local(typed), unit.value);
  const doubt = local(spread?.value.trim() ?? "");
  return doubt && !PLUS_MINUS.test(text) ? `${text} ± ${doubt}` : text;
}

/** The SI value that stands in a field, null where it is refused. */
export function siOf(field) {
  try {
    return readField(field.declared, textOf(field), settings().system).si;
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return null;
  }
}

function readOrNull(text, kind, bareUnit) {
  try {
    return readQuantity(text, kind, bareUnit);
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return null;
  }
}
