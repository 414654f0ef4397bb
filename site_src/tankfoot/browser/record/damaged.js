/** Entries that the phone's storage spoilt: what is wrong with them, and a name for each. */

import { fileSentence } from "../../wording/sentences.js";
import { words } from "../../wording/words.js";
import { entryProblems } from "../../office/entry_check.js";

/** @param {object|undefined} stored @returns {string|null} a sentence, or null where nothing is wrong */
export function damageOf(stored) {
  if (stored === undefined) return words("record.damaged.lost_part");
  const [first] = entryProblems(stored);
  return first ? `${fileSentence(first)}.` : null;
}

export function nameOfDamaged(stored) {
  const names = [stored?.body?.tank_name, stored?.body?.name].filter((name) => typeof name === "string" && name);
  return names.length ? words("record.damaged.name", { name: names[0] }) : words("record.damaged.no_name");
}
