"""How much may leave while the gas is shut, and whether a planned draw may begin."""

from tankfoot.physics.outflow import CO2_HEAT_CAPACITY_RATIO
from tankfoot.purge.outcome import read, work_out
from tankfoot.quantities.units import units

ZERO, FLOOR = "zero", "floor"


def draw_stop(readings, system):
    """Why the ``planned_draw`` of a purge's ``readings`` must not begin with the gas shut, None where nothing says so.

    ``ZERO``: it could bring the tank to zero gauge; ``FLOOR``: it could take it below its ``floor_pressure``. The plan,
    with its own ± where it has one, is held against the limits of ``draw_limits`` in its own unit, so that what stops
    it is the number on the screen. Bare numbers are in the units of ``system``; raises UnreadReading.

    >>> full = {"headspace": "3 bbl", "pressure_before": "10 psi", "temperature": "36 °F"}
    >>> [draw_stop(full | {"planned_draw": draw}, "us") for draw in ("0.3 bbl", "2 bbl")]
    [None, 'zero']
    """
    _, planned = read("planned_draw", readings.get("planned_draw", ""), system)
    draw = planned.si + (planned.uncertainty or 0.0)
    limits = draw_limits(readings, system, planned.unit)
    return next((name for name in (ZERO, FLOOR) if name in limits and draw > limits[name]), None)


def draw_limit(readings, system, unit):
    """What may leave at most with the gas shut, m3, and which limit that is: (volume, ``ZERO`` or ``FLOOR``).

    It is the smaller of the ``draw_limits``.

    >>> full = {"headspace": "3 bbl", "pressure_before": "10 psi", "temperature": "36 °F", "floor_pressure": "5 psi"}
    >>> draw_limit(full, "us", "L")
    (0.0751, 'floor')
    """
    limits = draw_limits(readings, system, unit)
    name = min(limits, key=limits.get)
    return limits[name], name


def draw_limits(readings, system, unit):
    """{limit: what may leave before it, m3}, each less its ± and rounded down to three digits in ``unit``, as shown.

    ``ZERO``: the tank comes to zero gauge, even if only because the gas cools in a fast draw; ``FLOOR``: to its
    ``floor_pressure``, where it has one. A margin that cannot be reckoned is none.
    """
    to_zero = _least(work_out("margin", readings, system).results.get("draw_to_zero"))
    fast = fast_draw(to_zero, read("headspace", readings["headspace"], system)[1].si) if to_zero > 0.0 else 0.0
    limits = {ZERO: rounded_down(fast, unit)}
    if readings.get("floor_pressure"):
        to_floor = _least(work_out("to_floor", readings, system).results.get("volume_lost"))
        limits[FLOOR] = rounded_down(to_floor, unit)
    return limits


def rounded_down(volume, unit):
    """A ``volume`` (m3) cut to three significant digits in ``unit``, m3 again; nothing below zero.

    >>> round(rounded_down(0.0677999, "L"), 12)
    0.0677
    """
    factor = units()[unit].factor
    digits, power = f"{max(volume, 0.0) / factor:.11e}".split("e")
    return float(f"{digits[:4]}e{power}") * factor


def fast_draw(slow_draw, headspace):
    """Volume (m3) that lowers the gauge as far as ``slow_draw`` (m3) does, drawn too fast for the gas to take up heat.

    Vf = Vh ((1 + Vs / Vh)^(1/k) - 1), from p V constant for the slow draw and p V^k constant, k = 1.3, for the fast one
    (adiabatic change of an ideal gas, any textbook of thermodynamics). ``headspace`` Vh in m3.

    >>> round(fast_draw(0.681, 1.0), 3)
    0.491
    """
    return headspace * ((1.0 + slow_draw / headspace) ** (1.0 / CO2_HEAT_CAPACITY_RATIO) - 1.0)


def _least(margin):
    return 0.0 if margin is None else margin.value - (margin.uncertainty or 0.0)


RANGES = {
    "draw_stop": "planned draw",
    "draw_limit": "planned draw in a unit",
    "draw_limits": "planned draw in a unit",
    "rounded_down": [(0.0, 2.0, -0.1, 0.0004899999999996), ["bbl", "L", "hL", "gal", "imp bbl"]],
    "fast_draw": [(0.0, 2.0), (0.05, 50.0)],
}
