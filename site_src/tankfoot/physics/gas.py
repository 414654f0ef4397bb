"""Carbon dioxide as a real gas at cellar conditions."""

from functools import cache

GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018, exact
CO2_MOLAR_MASS = 0.0440095  # kg/mol, IUPAC standard atomic weights
NORMAL_TEMPERATURE = 273.15  # K, the 0 °C of "normal" gas volumes
NORMAL_PRESSURE = 101325.0  # Pa


def co2_second_virial(temperature):
    """Second virial coefficient of CO2, m3/mol.

    B = (-1636.75 + 12.0408 T - 3.27957e-2 T^2 + 3.16528e-5 T^3) cm3/mol, for ``temperature`` T
    in K, 265 to 320 K.

    Source: R. F. Weiss, Marine Chemistry 2 (1974) 203-215, equation 6.

    >>> round(co2_second_virial(273.15) * 1e6, 2)
    -149.64
    """
    t = temperature
    return 1e-6 * (-1636.75 + t * (12.0408 + t * (-3.27957e-2 + t * 3.16528e-5)))


def co2_compressibility(pressure, temperature):
    """Compressibility factor Z of CO2, dimensionless.

    Z = 1 + B p / (R T), cut after the second virial coefficient; ``pressure`` absolute in Pa up
    to 400 kPa, ``temperature`` in K, 265 to 310 K.

    >>> round(co2_compressibility(101325.0, 273.15), 4)
    0.9933
    """
    return 1.0 + co2_second_virial(temperature) * pressure / (GAS_CONSTANT * temperature)


def co2_density(pressure, temperature):
    """Density of CO2 gas, kg/m3.

    rho = p M / (Z R T); ``pressure`` absolute in Pa up to 400 kPa, ``temperature`` in K,
    265 to 310 K.

    >>> round(co2_density(101325.0, 273.15), 4)  # 1.9768 by Span and Wagner (1996)
    1.9767
    """
    z = co2_compressibility(pressure, temperature)
    return pressure * CO2_MOLAR_MASS / (z * GAS_CONSTANT * temperature)


@cache
def co2_normal_density():
    """Density of CO2 gas at 0 °C and 101.325 kPa, kg/m3: turns a mass into a "normal" volume.

    >>> round(co2_normal_density(), 4)
    1.9767
    """
    return co2_density(NORMAL_PRESSURE, NORMAL_TEMPERATURE)


RANGES = {
    "co2_second_virial": [(265.0, 320.0)],
    "co2_compressibility": [(0.0, 4e5), (265.0, 310.0)],
    "co2_density": [(0.0, 4e5), (265.0, 310.0)],
    "co2_normal_density": [],
}
