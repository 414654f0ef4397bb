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
  const { rated_pressure: text } = after.readings;
  const rated = text ? siOfReading("rated_pressure", text) : null;
  const isAsked = rated !== null && (tank.body.rated_pressure ?? null) === null;
  if (after.state !== LAST && !isAsked) return null;
  const known = isAsked ? { ...tank.body, rated_pressure: rated } : tank.body;
  return edited(tank, after.state === LAST ? tankAfter(known, { ...after, readings: pressuresOf(after) }, settings().system) : known);
}

/** Those that the tank's own may follow: one past what the sums take, as a file made elsewhere may have it, tells nothing. */
function pressuresOf({ readings }) {
  const told = ["target_pressure", "pressure_after"].filter((name) => readings[name] && siOfReading(name, readings[name]) !== null);
  return Object.fromEntries(told.map((name) => [name, readings[name]]));
}
