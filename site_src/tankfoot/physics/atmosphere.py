"""Air pressure at a height above the sea."""

import math

EARTH_RADIUS = 6356766.0  # m, nominal, ISO 2533
SEA_LEVEL_PRESSURE = 101325.0  # Pa
SEA_LEVEL_TEMPERATURE = 288.15  # K
LAPSE_RATE = 0.0065  # K/m
EXPONENT = 9.80665 * 0.02896442 / (8.31432 * LAPSE_RATE)  # g M / (R L), ISO 2533 constants


def standard_air_pressure(altitude):
    """Air pressure of the standard atmosphere, Pa.

    p = p0 (1 - L H / T0)^(g M / (R L)) with the geopotential height H = r h / (r + h);
    ``altitude`` h in m above mean sea level, -500 to 11,000 m. The weather moves the true value by
    about 3 kPa either way.

    Source: ISO 2533:1975, Standard Atmosphere, equations 8 and 12.

    >>> round(standard_air_pressure(0.0))
    101325
    >>> round(standard_air_pressure(1600.0))
    83528
    """
    geopotential = EARTH_RADIUS * altitude / (EARTH_RADIUS + altitude)
    return SEA_LEVEL_PRESSURE * math.pow(1.0 - LAPSE_RATE * geopotential / SEA_LEVEL_TEMPERATURE, EXPONENT)


RANGES = {
    "standard_air_pressure": [(-500.0, 11000.0, 0.0)],
}
