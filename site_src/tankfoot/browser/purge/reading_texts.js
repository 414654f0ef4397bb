/** Readings of a purge between their texts and SI. */

import { calculators } from "../../calculators/declared.js";
import { readings } from "../../purge/declared.js";
import { read } from "../../purge/outcome.js";
import { formatIn } from "../../quantities/format.js";
import { offered } from "../../quantities/text.js";
import { settings } from "../storage/settings.js";

/** An SI value as the text of a reading, in the first unit of its kind; "" of null. */
export function textOfReading(name, si) {
  if (si === null) return "";
  const [calculator, field] = readings[name];
  const [symbol] = offered(calculators[calculator].fields[field].kind, settings().system);
  return formatIn(si, symbol);
}

/** The SI value of a reading's text. */
export function siOfReading(name, text) {
  const [, reading] = read(name, text, settings().system);
  return reading.si;
}
