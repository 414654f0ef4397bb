/** The gas above a tank's beer. Twin of gas.py. */

import { co2Density } from "../physics/gas.js";
import { tankShape } from "./shape.js";

/** Pa gauge: as it was read last, else as it is held; null where neither is known. */
export function lastPressure(body) {
  return body.pressure ?? body.hold_pressure ?? null;
}

/** The CO2 (kg) that leaves when the headspace is let down to zero gauge; null where there is none to leave. */
export function ventedGas(body, airPressure) {
  const pressure = lastPressure(body);
  if (pressure === null || pressure <= 0.0) return null;
  const [full, empty] = [pressure, 0.0].map((above) => co2Density(airPressure + above, body.temperature));
  return tankShape(body).headspace * (full - empty);
}
