"""A closed headspace of CO2: drawn from, settling over beer, leaking."""

from tankfoot.physics.gas import CO2_MOLAR_MASS, GAS_CONSTANT, co2_density, co2_second_virial
from tankfoot.physics.roots import brent_root
from tankfoot.physics.solubility import HIGHEST_PRESSURE, co2_in_beer, water_vapour_pressure


def draw_volume(headspace, pressure_before, pressure_after, temperature):
    """Volume that leaves a shut tank while its pressure falls, in the unit of ``headspace``.

    dV = V (rho_before / rho_after - 1): the gas that filled the headspace fills that and what left. Both
    pressures absolute in Pa up to 400 kPa, ``temperature`` in K.

    >>> round(draw_volume(5.0, 101325.0 + 68947.57, 101325.0, 275.15), 2)
    3.44
    """
    before = co2_density(pressure_before, temperature)
    return headspace * (before / co2_density(pressure_after, temperature) - 1.0)


def pressure_at_density(density, temperature):
    """Absolute pressure of CO2 gas of a ``density`` (kg/m3), Pa: co2_density turned round.

    p = rho R T / (M - rho B); ``temperature`` in K, 265 to 310 K, result up to 400 kPa.

    >>> round(pressure_at_density(co2_density(170000.0, 275.15), 275.15))
    170000
    """
    return density * GAS_CONSTANT * temperature / (CO2_MOLAR_MASS - density * co2_second_virial(temperature))


def settled_pressure(headspace, beer, carbonation, pressure, temperature, beer_factor):
    """Absolute pressure at which a shut headspace and the beer under it come to rest, Pa.

    V rho(p1) + Vb c1 = V rho(p2) + Vb c(p2): no CO2 comes or goes, so what the beer takes up the gas gives.
    ``headspace`` V and ``beer`` Vb in m3, ``carbonation`` c1 in kg/m3 now, ``pressure`` p1 absolute in Pa
    now, ``temperature`` in K. Found by Brent's method. ValueError where it would be above 1.5 MPa.

    >>> round(settled_pressure(1.0, 1e-12, 4.0, 170000.0, 275.15, 0.955))
    170000
    """
    before = headspace * co2_density(pressure, temperature) + beer * carbonation

    def surplus(settled):
        dissolved = beer * co2_in_beer(settled, temperature, beer_factor)
        return headspace * co2_density(settled, temperature) + dissolved - before

    return brent_root(surplus, water_vapour_pressure(temperature), HIGHEST_PRESSURE)


RANGES = {
    "draw_volume": [(0.01, 50.0), (8e4, 4e5), (8e4, 4e5), (265.0, 310.0)],
    "pressure_at_density": [(0.0, 7.5), (265.0, 310.0)],
    "settled_pressure": [(0.01, 20.0), (1e-12, 50.0), (0.0, 12.0), (8e4, 4e5), (265.0, 310.0), (0.9, 1.0)],
}
