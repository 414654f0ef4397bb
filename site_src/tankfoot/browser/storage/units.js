/** The units that this phone shows quantities in. */

import { kinds } from "../../quantities/declared.js";
import { offered } from "../../quantities/text.js";
import { settings } from "./settings.js";

/** The one last chosen for a kind of quantity, else the first of this phone's system. */
export function unitOf(kind) {
  const symbols = offered(kind, settings().system);
  const chosen = settings().units[kind];
  return symbols.includes(chosen) ? chosen : symbols[0];
}

/** @returns {Object<string, string>} the unit of every kind of quantity */
export function unitsShown() {
  return Object.fromEntries(Object.keys(kinds).map((kind) => [kind, unitOf(kind)]));
}
