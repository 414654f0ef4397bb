"""What comes out of an open port, and how hard it pushes."""

import math

STANDARD_GRAVITY = 9.80665  # m/s2
SHORT_TUBE_COEFFICIENT = 0.8  # a stub of tube two to three bores long, running full
CO2_HEAT_CAPACITY_RATIO = 1.3  # cp/cv of CO2 at 0 to 20 °C and up to 5 bar, within 0.03
CHOKING_RATIO = 0.5457  # outside over inside pressure, (2 / (k + 1))^(k / (k - 1)) for that k


def bore_area(bore):
    """Area of a round bore of diameter ``bore`` (m), m2: A = pi d^2 / 4.

    >>> round(bore_area(0.0348) * 1e4, 3)
    9.511
    """
    return math.pi * bore * bore / 4.0


def port_overpressure(pressure, head, density):
    """Pressure at a port above the outside air, Pa: p + rho g h.

    ``pressure`` gauge in Pa of the gas on top, ``head`` in m of liquid above the port, ``density`` in kg/m3.

    >>> round(port_overpressure(70000.0, 2.0, 1010.0))
    89809
    """
    return pressure + density * STANDARD_GRAVITY * head


def exit_speed(overpressure, density):
    """Speed of a loss-free jet, m/s: v = sqrt(2 p / rho).

    ``overpressure`` in Pa, 0 or more; ``density`` in kg/m3. Torricelli's law with the gas pressure added.

    >>> round(exit_speed(68947.6, 1010.0), 2)
    11.68
    """
    return math.sqrt(2.0 * overpressure / density)


def short_tube_flow(overpressure, density, bore):
    """Flow from a port with nothing behind it, m3/s: Q = Cd A sqrt(2 p / rho), Cd = 0.80.

    ``overpressure`` in Pa, ``density`` in kg/m3, ``bore`` in m. Steady; the viscosity does not enter
    above a Reynolds number of about 10,000, far below what a tank port reaches.

    Source: any hydraulics handbook; for example H. W. King and E. F. Brater, Handbook of Hydraulics,
    short tubes (from memory).

    >>> round(short_tube_flow(68947.6, 1010.0, 0.0348) * 1000, 2)
    8.89
    """
    return SHORT_TUBE_COEFFICIENT * bore_area(bore) * exit_speed(overpressure, density)


def force_on_cap(overpressure, bore):
    """Force on a cap held over a port, N: F = p A.

    ``overpressure`` in Pa, ``bore`` in m. The gasket seats outside the bore, so that the true force is
    larger.

    >>> round(force_on_cap(68947.6, 0.0348), 1)
    65.6
    """
    return overpressure * bore_area(bore)


def jet_force(overpressure, bore):
    """Force of a short-tube jet on a flat hand that turns it aside, N: F = rho Q v = 2 Cd^2 p A.

    ``overpressure`` in Pa, ``bore`` in m. By the momentum balance, the jet leaving at Cd times the loss-free
    speed.

    >>> round(jet_force(68947.6, 0.0348), 1)
    83.9
    """
    return 2.0 * SHORT_TUBE_COEFFICIENT * SHORT_TUBE_COEFFICIENT * overpressure * bore_area(bore)


def is_choked(inside, outside):
    """Whether CO2 leaves at the speed of sound, so that a lower pressure outside draws no more of it.

    ``inside`` and ``outside`` absolute in Pa. Choked where outside / inside <= (2 / (k + 1))^(k / (k - 1)), k
    = 1.3.

    >>> is_choked(270000.0, 101325.0), is_choked(170000.0, 101325.0)
    (True, False)
    """
    return outside <= CHOKING_RATIO * inside


def gas_outflow(inside, outside, density, bore):
    """Mass flow of CO2 from an open port, kg/s.

    Choked: Cd A sqrt(k p rho (2 / (k + 1))^((k + 1) / (k - 1))). Not choked, with r = outside / inside:
    Cd A sqrt(2 k / (k - 1) p rho (r^(2 / k) - r^((k + 1) / k))). ``inside`` and ``outside`` absolute in Pa,
    ``density`` rho in kg/m3 of the gas inside, ``bore`` in m; k = 1.3, Cd = 0.80 as for the liquid. Steady.

    Source: B. S. Massey, Mechanics of Fluids, compressible flow through a nozzle (from memory).

    >>> round(gas_outflow(170000.0, 101325.0, 3.3, 0.0348), 3)
    0.378
    """
    k = CO2_HEAT_CAPACITY_RATIO
    if is_choked(inside, outside):
        share = k * math.pow(2.0 / (k + 1.0), (k + 1.0) / (k - 1.0))
    else:
        fall = math.log1p((inside - outside) / outside)
        share = -2.0 * k / (k - 1.0) * math.exp(-2.0 / k * fall) * math.expm1(-(k - 1.0) / k * fall)
    return SHORT_TUBE_COEFFICIENT * bore_area(bore) * math.sqrt(share * inside * density)


RANGES = {
    "bore_area": [(0.005, 0.2)],
    "port_overpressure": [(0.0, 3e5), (0.0, 8.0), (950.0, 1150.0)],
    "exit_speed": [(0.0, 4e5), (950.0, 1150.0)],
    "short_tube_flow": [(0.0, 4e5), (950.0, 1150.0), (0.005, 0.2)],
    "force_on_cap": [(0.0, 4e5), (0.005, 0.2)],
    "jet_force": [(0.0, 4e5), (0.005, 0.2)],
    "is_choked": [(5e4, 5e5, 2e5), (5e4, 5e5, CHOKING_RATIO * 2e5, CHOKING_RATIO * 2e5 + 10.0)],
    "gas_outflow": [(1e5, 5e5, 2e5), (5e4, 1e5), (0.5, 8.0), (0.005, 0.2)],
}
