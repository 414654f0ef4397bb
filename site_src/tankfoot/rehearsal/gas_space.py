"""The gas above the beer: CO2 as a real gas and the air that came in, its heat while it expands and is warmed again."""

import math

from tankfoot.physics.gas import CO2_MOLAR_MASS, GAS_CONSTANT, NORMAL_TEMPERATURE
from tankfoot.physics.headspace import pressure_at_density
from tankfoot.physics.outflow import gas_outflow

AIR_MOLAR_MASS = 0.0289647  # kg/mol, dry air
HEAT_CAPACITY = 27.67  # J/(mol K) of CO2 at constant volume, dilute, at 0 °C; NIST-JANAF tables (from memory)
HEAT_CAPACITY_RISE = 0.046  # J/(mol K2), the same source, 0 to 25 °C
LINEAR_BELOW = 100.0  # Pa across an opening, where its flow is taken in proportion: a root has no slope at nothing


def gas_pressure(co2, air, volume, temperature):
    """Absolute pressure of ``co2`` (kg) and ``air`` (mol) in a ``volume`` (m3) at a ``temperature`` (K), Pa.

    p = p CO2 + n R T / V: CO2 with its second virial coefficient, air as an ideal gas beside it.

    >>> round(gas_pressure(1.9767, 0.0, 1.0, 273.15), -1)
    101330.0
    """
    return pressure_at_density(co2 / volume, temperature) + air * GAS_CONSTANT * temperature / volume


def second_virial_slope(temperature):
    """How the second virial coefficient of CO2 changes with ``temperature`` (K), m3/(mol K): co2_second_virial derived.

    >>> round(second_virial_slope(275.0) * 1e6, 3)
    1.184
    """
    t = temperature
    return 1e-6 * (12.0408 + t * (-2.0 * 3.27957e-2 + t * 3.0 * 3.16528e-5))


def expansion_pressure(pressure, temperature):
    """T (dp/dT) at constant volume, Pa: what the gas gives up of its heat for each m3 that it grows by.

    p + p^2 B' / R, since p = R T / (v - B); p of an ideal gas. ``pressure`` absolute in Pa, ``temperature`` in K.

    >>> round(expansion_pressure(170000.0, 275.0) / 170000.0, 4)
    1.0242
    """
    return pressure + pressure * pressure * second_virial_slope(temperature) / GAS_CONSTANT


def heat_capacity(co2, air, temperature):
    """Heat capacity of the gas at constant volume, J/K; air counts as CO2, mole for mole.

    >>> round(heat_capacity(0.0440095, 0.0, 298.15), 2)  # 28.82 by NIST-JANAF, from memory
    28.82
    """
    amount = co2 / CO2_MOLAR_MASS + air
    return amount * (HEAT_CAPACITY + HEAT_CAPACITY_RISE * (temperature - NORMAL_TEMPERATURE))


def exchange(inside, outside, density, bore):
    """Mass of gas that leaves through an opening of a ``bore`` (m), kg/s; negative where air comes in.

    ``gas_outflow`` either way, in proportion below 100 Pa. ``inside`` and ``outside`` absolute in Pa, ``density`` in
    kg/m3 of the gas on the side that it comes from.

    >>> exchange(101325.0, 101325.0, 1.9, 0.02)
    0.0
    """
    apart = inside - outside
    high, low = max(inside, outside), min(inside, outside)
    if abs(apart) < LINEAR_BELOW:
        return gas_outflow(low + LINEAR_BELOW, low, density, bore) * apart / LINEAR_BELOW
    return math.copysign(gas_outflow(high, low, density, bore), apart)


def air_density(pressure, temperature):
    """Density of air, kg/m3, as an ideal gas.

    >>> round(air_density(101325.0, 293.15), 3)
    1.204
    """
    return pressure * AIR_MOLAR_MASS / (GAS_CONSTANT * temperature)


RANGES = {
    "gas_pressure": [(0.01, 30.0), (0.0, 100.0), (5.0, 20.0), (265.0, 310.0)],
    "second_virial_slope": [(265.0, 310.0)],
    "expansion_pressure": [(2e4, 4e5), (265.0, 310.0)],
    "heat_capacity": [(0.0, 30.0), (0.0, 100.0), (265.0, 310.0)],
    "exchange": [(5e4, 4e5, 1e5, 1e5 + 50.0), (5e4, 4e5, 1e5, 1e5 + 50.0), (0.5, 8.0), (0.005, 0.1)],
    "air_density": [(5e4, 1.1e5), (265.0, 310.0)],
}
