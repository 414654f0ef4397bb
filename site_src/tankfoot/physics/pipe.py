"""Flow from a tank through its bottom port, a diaphragm valve and a smooth hose to the open air."""

import math

from tankfoot.physics.interpolation import pchip, pchip_slopes
from tankfoot.physics.outflow import bore_area, exit_speed
from tankfoot.physics.roots import brent_root

# Reynolds numbers. Source: L. F. Moody, Transactions of the ASME 66 (1944) 671-684: the critical zone.
LAMINAR_BELOW = 2000.0
TURBULENT_ABOVE = 4000.0
ENTRANCE_COEFFICIENT = 0.5  # sharp, flush with the cone; Crane Technical Paper 410

# Source: Perry's Chemical Engineers' Handbook, frictional loss for turbulent flow through fittings and
# valves, diaphragm valve: share of the travel, loss coefficient.
VALVE_OPENINGS = [0.25, 0.5, 0.75, 1.0]
VALVE_LOGARITHMS = [math.log(k) for k in (21.0, 4.3, 2.6, 2.3)]
VALVE_SLOPES = pchip_slopes(VALVE_OPENINGS, VALVE_LOGARITHMS)


def diaphragm_valve_coefficient(opening):
    """Loss coefficient of a weir diaphragm valve on the speed in its bore, for an ``opening`` from 0.25 to 1.

    The handbook's four points, their logarithms joined by a monotone cubic. Makes differ, by a third or more.

    >>> round(diaphragm_valve_coefficient(0.5), 2)
    4.3
    """
    return math.exp(pchip(VALVE_OPENINGS, VALVE_LOGARITHMS, VALVE_SLOPES, opening))


def step_coefficients(bore, next_bore):
    """Loss coefficients of a sudden step from ``bore`` to ``next_bore`` (m): on the speed before it, and
    after it.

    Wider: (1 - A1 / A2)^2 on the speed before (Borda and Carnot). Narrower: 0.5 (1 - A2 / A1) on the speed
    after (Crane Technical Paper 410).

    >>> [round(k, 4) for k in step_coefficients(0.0348, 0.038)], step_coefficients(0.038, 0.038)
    ([0.026, 0.0], (0.0, 0.0))
    """
    ratio = bore * bore / (next_bore * next_bore)
    if ratio <= 1.0:
        return (1.0 - ratio) * (1.0 - ratio), 0.0
    return 0.0, 0.5 * (1.0 - 1.0 / ratio)


def reynolds_number(speed, bore, density, viscosity):
    """Reynolds number rho v d / mu; ``speed`` in m/s, ``bore`` in m, ``density`` in kg/m3, ``viscosity`` in
    Pa s.

    >>> round(reynolds_number(5.0, 0.038, 1010.0, 0.0018))
    106611
    """
    return density * speed * bore / viscosity


def friction_factor(reynolds):
    """Darcy friction factor of a smooth round hose at a ``reynolds`` number above 0.

    64 / Re when laminar; Serghides' closed form of Colebrook's equation without roughness when turbulent;
    between the two a straight line, where the true value wanders.

    Source: T. K. Serghides, Chemical Engineering 91 (1984), March 5, 63-64.

    >>> round(friction_factor(1000.0), 4), round(friction_factor(100000.0), 5)
    (0.064, 0.01799)
    """
    if reynolds <= LAMINAR_BELOW:
        return 64.0 / reynolds
    if reynolds < TURBULENT_ABOVE:
        low, high = 64.0 / LAMINAR_BELOW, _serghides(TURBULENT_ABOVE)
        return low + (high - low) * (reynolds - LAMINAR_BELOW) / (TURBULENT_ABOVE - LAMINAR_BELOW)
    return _serghides(reynolds)


def _serghides(reynolds):
    a = -2.0 * math.log10(12.0 / reynolds)
    b = -2.0 * math.log10(2.51 * a / reynolds)
    c = -2.0 * math.log10(2.51 * b / reynolds)
    root = a - (b - a) * (b - a) / (c - 2.0 * b + a)
    return 1.0 / (root * root)


def friction_loss(speed, length, bore, density, viscosity):
    """Pressure lost along a smooth hose, Pa: f L / d rho v^2 / 2, and 32 mu L v / d^2 when laminar.

    ``speed`` in m/s, ``length`` and ``bore`` in m, ``density`` in kg/m3, ``viscosity`` in Pa s. Newtonian,
    level.

    >>> round(friction_loss(5.0, 3.0, 0.038, 1010.0, 0.0018))
    17693
    """
    reynolds = reynolds_number(speed, bore, density, viscosity)
    if reynolds <= LAMINAR_BELOW:
        return 32.0 * viscosity * length * speed / (bore * bore)
    return friction_factor(reynolds) * length / bore * 0.5 * density * speed * speed


def hose_speed(overpressure, bore, valve_coefficient, length, hose_bore, density, viscosity):
    """Speed in the hose, m/s, at which all of ``overpressure`` (Pa) is used up, by Brent's method.

    p = rho / 2 ((K entrance + K valve + K wider) v1^2 + (1 + K narrower) v2^2) + friction, v1 in the port's
    ``bore`` and v2 in ``hose_bore`` (both m); ``length`` of the hose in m, 0 or more; ``density`` in kg/m3,
    ``viscosity`` in Pa s. The end is open to the air. Loss coefficients are those of turbulent flow.

    >>> round(hose_speed(68947.57, 0.0348, 3.1005, 3.0, 0.038, 1010.0, 0.0018), 2)
    4.24
    """
    wider, narrower = step_coefficients(bore, hose_bore)
    ratio = hose_bore * hose_bore / (bore * bore)
    losses = (ENTRANCE_COEFFICIENT + valve_coefficient + wider) * ratio * ratio + 1.0 + narrower

    def missing(speed):
        friction = friction_loss(speed, length, hose_bore, density, viscosity)
        return 0.5 * density * losses * speed * speed + friction - overpressure

    return brent_root(missing, 0.0, exit_speed(overpressure, density))


def flow_at(speed, bore):
    """Flow, m3/s, at a ``speed`` (m/s) in a round ``bore`` (m): A v.

    >>> round(flow_at(4.23655, 0.038) * 1000, 3)
    4.805
    """
    return bore_area(bore) * speed


RANGES = {
    "diaphragm_valve_coefficient": [(0.25, 1.0, 0.5, 0.75)],
    "step_coefficients": [(0.01, 0.1), (0.01, 0.1)],
    "reynolds_number": [(0.0, 15.0), (0.01, 0.1), (950.0, 1150.0), (0.0008, 0.1)],
    "friction_factor": [(1.0, 1e6, LAMINAR_BELOW, 3000.0, TURBULENT_ABOVE)],
    "friction_loss": [(0.0, 15.0), (0.0, 30.0), (0.01, 0.1), (950.0, 1150.0), (0.0008, 0.5)],
    "hose_speed": [
        (100.0, 3e5), (0.01, 0.1), (2.3, 21.0), (0.0, 30.0), (0.01, 0.1), (950.0, 1150.0), (0.0008, 0.5),
    ],
    "flow_at": [(0.0, 15.0), (0.01, 0.1)],
}
