/** Tables that are asked for names which stand in entries: "constructor" is a name too. */

/** What a table itself holds under a name, undefined where it holds nothing. */
export function own(table, name) {
  return Object.hasOwn(table, name) ? table[name] : undefined;
}
