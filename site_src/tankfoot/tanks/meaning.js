/** Whether a tank of the record can be drawn, filled and opened. Twin of meaning.py. */

import { problem } from "../purge/stack.js";
import { formatIn } from "../quantities/format.js";
import { withinReach } from "../quantities/propagate.js";
import { tankShape } from "./shape.js";

const ROUNDING = 1.01; // a measure may have been changed beside beer that was typed with two digits

/**
 * What a tank's body, right in its shape, cannot mean, by their places.
 *
 * @returns {[string, string, object][]} place in it, code, facts
 */
export function tankProblems(body) {
  const shape = withinReach(tankShape, body);
  /** @type {[string, string, object][]} */
  const found = [];
  if (shape === null || !(shape.total > 0.0)) found.push(["", "no-vessel", {}]);
  else if (body.beer_volume > ROUNDING * shape.total) {
    found.push(["beer_volume", "too-much-beer", { holds: formatIn(shape.total, "L", 4) }]);
  }
  const why = body.stack === null ? null : problem(body.stack);
  if (why !== null) found.push(["stack", why, {}]);
  return found;
}
