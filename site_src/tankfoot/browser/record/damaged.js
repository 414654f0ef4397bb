/** Entries that the phone's storage spoilt: what is wrong with them, and a name for each. */

import { checkEntry } from "../../record/validate.js";

/** @param {object|undefined} stored @returns {string|null} a sentence, or null where nothing is wrong */
export function damageOf(stored) {
  if (stored === undefined) return "The phone's storage has lost a part of it.";
  const [first] = checkEntry(stored);
  return first ? `${first.where} ${first.says}.`.trim() : null;
}

export function nameOfDamaged(stored) {
  const names = [stored?.body?.tank_name, stored?.body?.name].filter((name) => typeof name === "string" && name);
  return `Damaged: ${names[0] ?? "an entry"}`;
}
