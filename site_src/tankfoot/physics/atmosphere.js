/** Air pressure at a height above the sea. Twin of atmosphere.py. */

const EARTH_RADIUS = 6356766.0;
const SEA_LEVEL_PRESSURE = 101325.0;
const SEA_LEVEL_TEMPERATURE = 288.15;
const LAPSE_RATE = 0.0065;
const EXPONENT = 9.80665 * 0.02896442 / (8.31432 * LAPSE_RATE);

export function standardAirPressure(altitude) {
  const geopotential = EARTH_RADIUS * altitude / (EARTH_RADIUS + altitude);
  return SEA_LEVEL_PRESSURE * Math.pow(1.0 - LAPSE_RATE * geopotential / SEA_LEVEL_TEMPERATURE, EXPONENT);
}
