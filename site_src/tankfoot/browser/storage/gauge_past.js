/** What was read at a tank's gauge since its beer came in, and what breaks that series. */

import { breaksOf, pointsOf } from "../../batches/gauge.js";
import { lifeIn } from "../../batches/life.js";
import { tankShape } from "../../tanks/shape.js";
import { airPressure } from "./current_tank.js";
import { entriesUnder } from "./ranges.js";
import { settings } from "./settings.js";
import { eventsOf } from "./stays.js";

const LONGEST = 120 * 86_400_000; // ms: of a tank whose batch nobody told
const MOST = 60; // readings

/** @param {any} tank its entry @returns {Promise<{points: any[], breaks: string[], purges: any[], vessel: any}>} */
export async function gaugePast({ id, body }) {
  const events = await eventsOf(id);
  const since = lifeIn(events).since ?? new Date(Date.now() - LONGEST).toISOString();
  const [readings, purges] = await Promise.all([
    entriesUnder("of-tank-at", ["tank-reading", id], since),
    entriesUnder("of-tank-by-day", ["purge", id], since),
  ]);
  const points = pointsOf(readings, body.temperature, settings().system).slice(-MOST);
  const vessel = {
    headspace: tankShape(body).headspace, beer: body.beer_volume, air_pressure: airPressure(), floor: body.floor_pressure,
  };
  return { points, breaks: breaksOf(purges, events), purges, vessel };
}
