/** A purge's tank as a change of the purge leaves it. */

import { LAST } from "../../purge/machine.js";
import { tankAfter } from "../../tanks/after.js";
import { edited } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { siOfReading } from "./reading_texts.js";

/**
 * The tank's entry with the rated pressure that was asked for, once the step that asked for it is left, and as the
 * purge leaves it once that is over; null where nothing of it changes. `before` and `after` are bodies of the purge.
 */
export function tankChanged(tank, before, after) {
  if (!tank || after.state === before.state) return null;
  const { rated_pressure: rated } = after.readings;
  const isAsked = rated && (tank.body.rated_pressure ?? null) === null;
  if (after.state !== LAST && !isAsked) return null;
  const known = isAsked ? { ...tank.body, rated_pressure: siOfReading("rated_pressure", rated) } : tank.body;
  return edited(tank, after.state === LAST ? tankAfter(known, after, settings().system) : known);
}
