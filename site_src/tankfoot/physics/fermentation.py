"""A fermenting tank that is open through its blow-off pipe: the gas the yeast makes, and what a draw takes."""

import math

from tankfoot.physics.gas import co2_density
from tankfoot.physics.outflow import CO2_HEAT_CAPACITY_RATIO, STANDARD_GRAVITY

WATER_DENSITY = 998.2  # kg/m3 at 20 °C; turns specific gravity into a density
EXTRACT_PER_ALCOHOL = 2.0665  # g of real extract for 1 g of alcohol, Balling (from memory)
CO2_PER_ALCOHOL = 0.9565  # g of CO2 beside it, Balling (from memory)
REAL_PER_APPARENT = 0.8192  # fall of real extract for a fall of apparent extract, Balling (from memory)


def co2_from_extract(extract):
    """CO2 that fermentation makes of an amount of real ``extract``, both in kg.

    m = 0.9565 / 2.0665 x extract: 2.0665 g of extract give 1 g of alcohol, 0.9565 g of CO2 and 0.11 g of yeast.

    Source: Balling's equation, as in any brewing handbook (from memory).

    >>> round(co2_from_extract(1.0), 4)
    0.4629
    """
    return CO2_PER_ALCOHOL / EXTRACT_PER_ALCOHOL * extract


def co2_made(volume, gravity, fall):
    """CO2 that the yeast makes, kg/s: the fall of apparent extract, turned to real, times Balling's share.

    ``volume`` of beer in m3, its specific ``gravity`` now, ``fall`` of apparent extract in °P (percent by mass)
    a second.

    >>> round(co2_made(3.0, 1.040, 3.0 / 86400.0) * 1000, 3)  # 30 hL falling 3 °P a day
    0.41
    """
    return co2_from_extract(volume * gravity * WATER_DENSITY * REAL_PER_APPARENT * fall / 100.0)


def co2_volume_flow(mass_flow, pressure, temperature):
    """Volume of a flow of CO2 (kg/s) at tank conditions, m3/s, as a real gas.

    ``pressure`` absolute in Pa up to 400 kPa, ``temperature`` in K, 265 to 310 K. Water vapour in the gas, 2 %
    at 20 °C, would make it more and is left out.

    >>> round(co2_volume_flow(0.00041, 101325.0, 293.15) * 60000, 1)  # L/min
    13.4
    """
    return mass_flow / co2_density(pressure, temperature)


def lift_pressure(height, density):
    """Pressure below the outside air that lifts a liquid by ``height`` (m) in a pipe, Pa: p = rho g h.

    >>> round(lift_pressure(0.5, 998.2))
    4894
    """
    return density * STANDARD_GRAVITY * height


def time_to_lift(headspace, draw, gas, outside, lift):
    """Shortest time until a headspace at the ``outside`` pressure is ``lift`` below it, s; None where it never is.

    t = V / Q ((1 + l Q / ((p - l) Q - p G))^(1 / k) - 1), k = 1.3: the gas takes up no heat from beer and walls.
    It is the energy balance of an ideal gas, k (p G - p' Q) = (V + Q t) dp'/dt, integrated from p to p - l.

    ``headspace`` V in m3; ``draw`` Q and the ``gas`` G that comes in at the outside pressure p, both m3/s; p absolute
    and ``lift`` l in Pa. The pipe's own volume is left out, which makes the time shorter.

    >>> round(time_to_lift(0.35, 0.001, 0.000225, 101325.0, 4894.0), 1)
    17.8
    """
    surplus = (outside - lift) * draw - outside * gas
    if surplus <= 0.0:
        return None
    growth = math.log1p(lift * draw / surplus) / CO2_HEAT_CAPACITY_RATIO
    return headspace / draw * math.expm1(growth)


RANGES = {
    "co2_from_extract": [(0.0, 50.0)],
    "co2_made": [(0.1, 50.0), (0.99, 1.17), (0.0, 1e-4)],
    "co2_volume_flow": [(0.0, 0.1), (8e4, 4e5), (265.0, 310.0)],
    "lift_pressure": [(0.0, 3.0), (900.0, 1200.0)],
    "time_to_lift": [(0.01, 50.0), (1e-7, 0.01, 0.001), (0.0, 0.01, 0.001), (8e4, 1.1e5, 1e5), (0.0, 2e4, 0.0)],
}
