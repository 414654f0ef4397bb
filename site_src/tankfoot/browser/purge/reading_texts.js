/** Readings of a purge between their texts and SI. */

import { calculators } from "../../calculators/declared.js";
import { instruments, readings, readOnce } from "../../purge/declared.js";
import { outcomeOf, read } from "../../purge/outcome.js";
import { formatIn } from "../../quantities/format.js";
import { offered, readQuantity, RefusedText } from "../../quantities/text.js";
import { PREFILLED } from "../parts/fields.js";
import { readingUnit } from "../parts/reading_unit.js";
import { settings } from "../storage/settings.js";

/** An SI value as the text of a reading, in the unit it is asked in; "" of null. */
export function textOfReading(name, si, digits) {
  return si === null ? "" : formatIn(si, readingUnit(name), digits);
}

/** A reading's text as it is offered to a hand. */
export function shortText(name, text) {
  const { si, unit } = readingOf(name, text);
  return formatIn(si, unit, PREFILLED);
}

/** What stands in a reading's text, whatever its limits; null where that is no quantity. */
export function readingOf(name, text) {
  try {
    return readQuantity(text, kindOf(name), offered(kindOf(name), settings().system)[0]);
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return null;
  }
}

/** The SI value of a reading's text; null of one past what the sums take. */
export function siOfReading(name, text) {
  try {
    return read(name, text, settings().system)[1].si;
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return null;
  }
}

/** What a purge tells; nothing where a reading is past what the sums take, as a file made elsewhere may have one. */
export async function toldBy(body) {
  try {
    return await outcomeOf(body, settings().system);
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return { ways: {}, agree: null, result: {} };
  }
}

/** The readings that still hold on arriving at a step: what an instrument shows there is read anew. */
export function stillHolding(taken, { saves = [] }) {
  const anew = saves.filter((name) => instruments.includes(name) && !readOnce.includes(name));
  return Object.fromEntries(Object.entries(taken).filter(([name]) => !anew.includes(name)));
}

function kindOf(name) {
  const [calculator, field] = readings[name];
  return calculators[calculator].fields[field].kind;
}
