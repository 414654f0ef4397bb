/** Why tanks are out of use, in words. */

import { words } from "../../wording/words.js";

/** Each reason of some holds once. @param {object[]} holds */
export function reasonsOf(holds) {
  return [...new Set(holds.map(({ body }) => words(`purge.held.${body.why}`)))].join(" ");
}
