/** A reading of a purge as it is shown beside others: short, in this phone's unit. */

import { calculators } from "../../calculators/declared.js";
import { readings } from "../../purge/declared.js";
import { formatIn } from "../../quantities/format.js";
import { local } from "../../quantities/locale.js";
import { offered, readQuantity, RefusedText } from "../../quantities/text.js";
import { settings } from "../storage/settings.js";
import { unitOf } from "../storage/units.js";

const DIGITS = 3;

/** @param {string} name of the reading @param {string} text what is no quantity is shown as it stands */
export function readingShown(name, text) {
  const [calculator, field] = readings[name];
  const { kind } = calculators[calculator].fields[field];
  try {
    const { si } = readQuantity(text, kind, offered(kind, settings().system)[0]);
    return local(formatIn(si, unitOf(kind), DIGITS));
  } catch (refused) {
    if (!(refused instanceof RefusedText)) throw refused;
    return text;
  }
}
