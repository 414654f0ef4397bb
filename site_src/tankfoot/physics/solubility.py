"""How much CO2 beer holds under a pressure, and the pressure that holds it there."""

import math

from tankfoot.physics.gas import CO2_MOLAR_MASS, GAS_CONSTANT, co2_second_virial
from tankfoot.physics.roots import brent_root

ATMOSPHERE = 101325.0  # Pa
CO2_PARTIAL_MOLAR_VOLUME = 32.3e-6  # m3/mol, dissolved in water, Weiss (1974)
HIGHEST_PRESSURE = 1.5e6  # Pa absolute, where the search for a pressure ends
WARMEST_ON_CHARTS = 285.15  # K, where the printed charts of beer's carbonation end: the beer factor is theirs


def water_vapour_pressure(temperature):
    """Vapour pressure of pure water, Pa.

    ln(p / atm) = 24.4543 - 67.4509 (100 / T) - 4.8489 ln(T / 100); ``temperature`` T in K, 273 to 313 K.

    Source: R. F. Weiss and B. A. Price, Marine Chemistry 8 (1980) 347-359, equation 10 at zero salinity.

    >>> round(water_vapour_pressure(273.15))
    610
    """
    t = temperature / 100.0
    return ATMOSPHERE * math.exp(24.4543 - 67.4509 / t - 4.8489 * math.log(t))


def co2_solubility(temperature):
    """Solubility K0 of CO2 in pure water, mol/(m3 Pa), for fugacity.

    ln(K0 / (mol/(L atm))) = -58.0931 + 90.5069 (100 / T) + 22.2940 ln(T / 100); ``temperature`` T in K,
    272 to 313 K.

    Source: R. F. Weiss, Marine Chemistry 2 (1974) 203-215, equation 12 and table I at zero salinity.

    >>> round(co2_solubility(273.15) * 101325.0 / 1000.0, 5)
    0.07758
    """
    t = temperature / 100.0
    return 1000.0 / ATMOSPHERE * math.exp(-58.0931 + 90.5069 / t + 22.2940 * math.log(t))


def co2_in_water(pressure, temperature):
    """CO2 in pure water at equilibrium with wet CO2 gas, kg/m3 (the same number as g/L).

    c = M K0 (p - p_water) exp((B p + v (1 atm - p)) / (R T)): partial pressure less water vapour, fugacity by
    the second virial coefficient B, pressure correction with the partial molar volume v. ``pressure`` p
    absolute in Pa, up to 1 MPa; ``temperature`` T in K, 272 to 313 K.

    Source: R. F. Weiss, Marine Chemistry 2 (1974) 203-215, equations 5, 9 and 12.

    >>> round(co2_in_water(101325.0, 273.15), 2)
    3.37
    """
    swelling = CO2_PARTIAL_MOLAR_VOLUME * (ATMOSPHERE - pressure)
    departure = (co2_second_virial(temperature) * pressure + swelling) / (GAS_CONSTANT * temperature)
    partial = pressure - water_vapour_pressure(temperature)
    return CO2_MOLAR_MASS * co2_solubility(temperature) * partial * math.exp(departure)


def co2_in_beer(pressure, temperature, beer_factor):
    """CO2 in beer at equilibrium, kg/m3: ``beer_factor`` (0.955 +- 0.02 for most beers) times that in water.

    ``pressure`` absolute in Pa, ``temperature`` in K as for water. The factor is what the trade's printed
    charts imply between 0 and 12 °C (from memory).

    >>> round(co2_in_beer(170000.0, 275.15, 0.955) / 1.9768, 2)  # volumes
    2.52
    """
    return beer_factor * co2_in_water(pressure, temperature)


def holding_pressure(carbonation, temperature, beer_factor):
    """Absolute pressure that keeps ``carbonation`` (kg/m3) in beer, Pa: the inverse of co2_in_beer.

    ValueError where no pressure up to 1.5 MPa does. Found by Brent's method.

    >>> round(holding_pressure(5.0, 275.15, 0.955) / 1e5, 2)
    1.71
    """
    return brent_root(
        lambda pressure: co2_in_beer(pressure, temperature, beer_factor) - carbonation,
        water_vapour_pressure(temperature), HIGHEST_PRESSURE,
    )


RANGES = {
    "water_vapour_pressure": [(273.0, 313.0)],
    "co2_solubility": [(272.0, 313.0)],
    "co2_in_water": [(1e4, 1e6), (272.0, 313.0)],
    "co2_in_beer": [(1e4, 1e6), (272.0, 313.0), (0.9, 1.0)],
    "holding_pressure": [(0.0, 40.0), (272.0, 313.0), (0.9, 1.0)],
}
