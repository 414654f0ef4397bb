"""Whether a planned draw may begin while the gas is shut."""

from tankfoot.physics.outflow import CO2_HEAT_CAPACITY_RATIO
from tankfoot.purge.outcome import read, work_out

ZERO, FLOOR = "zero", "floor"


def draw_stop(readings, system):
    """Why the ``planned_draw`` of a purge's ``readings`` must not begin with the gas shut, None where nothing says so.

    ``ZERO``: it could bring the tank to zero gauge, even if only because the gas cools in a fast draw; ``FLOOR``: it
    could take it below its ``floor_pressure``. What may leave counts less its ±, the plan with its own, and a margin
    that cannot be reckoned is none. Bare numbers are in the units of ``system``; raises UnreadReading.

    >>> full = {"headspace": "3 bbl", "pressure_before": "10 psi", "temperature": "36 °F"}
    >>> [draw_stop(full | {"planned_draw": draw}, "us") for draw in ("0.3 bbl", "2 bbl")]
    [None, 'zero']
    """
    _, planned = read("planned_draw", readings.get("planned_draw", ""), system)
    draw = planned.si + (planned.uncertainty or 0.0)
    to_zero = _least(work_out("margin", readings, system).results.get("draw_to_zero"))
    if to_zero <= 0.0 or draw >= fast_draw(to_zero, read("headspace", readings["headspace"], system)[1].si):
        return ZERO
    to_floor = _least(work_out("to_floor", readings, system).results.get("volume_lost"))
    return FLOOR if readings.get("floor_pressure") and draw >= to_floor else None


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
    "fast_draw": [(0.0, 2.0), (0.05, 50.0)],
}
