"""Isopropyl alcohol (2-propanol) and water at 20 °C, where volumes do not add up.

Strength is the volume of pure alcohol at 20 °C in a volume of mixture at 20 °C.
"""

from tankfoot.physics.interpolation import pchip, pchip_slopes
from tankfoot.physics.roots import brent_root

# Source: CRC Handbook of Chemistry and Physics, 102nd ed. (2021), Concentrative Properties of Aqueous
# Solutions, 2-propanol at 20 °C: mass fraction, density in kg/m3.
MASS_FRACTIONS = [0.0, 0.05, 0.10, 0.20, 0.40, 0.60, 0.80, 1.0]
DENSITIES = [998.2, 988.4, 981.6, 969.6, 930.2, 882.4, 834.1, 784.8]
SLOPES = pchip_slopes(MASS_FRACTIONS, DENSITIES)
WATER_DENSITY = DENSITIES[0]
PURE_DENSITY = DENSITIES[-1]


def isopropyl_density(mass_fraction):
    """Density of isopropyl alcohol in water at 20 °C, kg/m3, for a ``mass_fraction`` from 0 to 1.

    The handbook's points joined by a monotone cubic; other published tables differ by up to 0.12 %.

    >>> isopropyl_density(0.6)
    882.4
    """
    return pchip(MASS_FRACTIONS, DENSITIES, SLOPES, mass_fraction)


def isopropyl_strength(mass_fraction):
    """Strength as a volume fraction at 20 °C, for a ``mass_fraction`` w from 0 to 1: w rho(w) / rho(1).

    >>> round(isopropyl_strength(0.5), 4)
    0.5778
    """
    return mass_fraction * isopropyl_density(mass_fraction) / PURE_DENSITY


def isopropyl_mass_fraction(strength):
    """Mass fraction for a ``strength`` (volume fraction at 20 °C, 0 to 1): the inverse, by Brent's method.

    >>> round(isopropyl_mass_fraction(0.7), 4)
    0.6272
    """
    return brent_root(lambda w: isopropyl_strength(w) - strength, 0.0, 1.0)


RANGES = {
    "isopropyl_density": [(0.0, 1.0, 0.05, 0.1, 0.2, 0.4, 0.6, 0.8)],
    "isopropyl_strength": [(0.0, 1.0)],
    "isopropyl_mass_fraction": [(0.0, 1.0, 1.02)],
}
