/** Entries in the order of their names, FV 2 before FV 10. */

import { locale } from "../../quantities/locale.js";

/** @param {object[]} entries @param {(body: object) => string} nameOf */
export function byName(entries, nameOf = (body) => body.name) {
  return [...entries].sort((a, b) => nameOf(a.body).localeCompare(nameOf(b.body), locale(), { numeric: true }));
}
