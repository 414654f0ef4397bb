/** The rules of what is due. Twin of rules.py. */

import { defaultRules } from "./declared.js";

/** The rules that hold: entries of kind "due-rule" replace a rule by its name, the one edited last. */
export function rulesOf(entries) {
  const own = new Map();
  const key = ({ edited, id }) => edited + id;
  for (const entry of [...entries].sort((a, b) => (key(a) < key(b) ? -1 : 1))) {
    if (!entry.deleted) own.set(entry.body.name, entry.body);
  }
  const names = defaultRules.map(({ name }) => name);
  const more = [...own.keys()].filter((name) => !names.includes(name)).sort();
  return [...defaultRules.map((rule) => own.get(rule.name) ?? rule), ...more.map((name) => own.get(name))];
}
