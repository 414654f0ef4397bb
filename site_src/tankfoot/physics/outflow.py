"""What comes out of an open port, and how hard it pushes."""

import math

STANDARD_GRAVITY = 9.80665  # m/s2
SHORT_TUBE_COEFFICIENT = 0.8  # a stub of tube two to three bores long, running full


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

    ``overpressure`` in Pa, ``bore`` in m. The gasket seats outside the bore, so that the true force is larger.

    >>> round(force_on_cap(68947.6, 0.0348), 1)
    65.6
    """
    return overpressure * bore_area(bore)


def jet_force(overpressure, bore):
    """Force of a short-tube jet on a flat hand that turns it aside, N: F = rho Q v = 2 Cd^2 p A.

    ``overpressure`` in Pa, ``bore`` in m. By the momentum balance, the jet leaving at Cd times the loss-free speed.

    >>> round(jet_force(68947.6, 0.0348), 1)
    83.9
    """
    return 2.0 * SHORT_TUBE_COEFFICIENT * SHORT_TUBE_COEFFICIENT * overpressure * bore_area(bore)
