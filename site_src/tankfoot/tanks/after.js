/** A tank as a purge leaves it. Twin of after.py. */

import { standing } from "../purge/machine.js";
import { read } from "../purge/outcome.js";

/** The body of a tank after a finished purge: less beer, another pressure; throws RefusedText. */
export function tankAfter(tank, purge, system) {
  const toppedUp = standing(purge.events).some(({ event }) => event === "topped-up");
  const name = toppedUp ? "target_pressure" : "pressure_after";
  const text = purge.readings[name];
  let { pressure } = tank;
  if (text) {
    const [, reading] = read(name, text, system);
    pressure = reading.si;
  }
  const left = tank.beer_volume - Math.max(0.0, purge.result.volume_lost?.value ?? 0.0);
  return { ...tank, beer_volume: Math.max(0.0, left), pressure };
}
