"""Whether a planned draw may begin while the gas is shut."""

from tankfoot.purge.outcome import read, work_out

ZERO, FLOOR = "zero", "floor"


def draw_stop(readings, system):
    """Why the ``planned_draw`` of a purge's ``readings`` must not begin with the gas shut, None where nothing says so.

    ``ZERO``: it could bring the tank to zero gauge; ``FLOOR``: it could take it below its ``floor_pressure``. What may
    leave counts less its ±, and a margin that cannot be reckoned is none. Bare numbers are in the units of ``system``;
    raises UnreadReading.

    >>> full = {"headspace": "3 bbl", "pressure_before": "10 psi", "temperature": "36 °F"}
    >>> [draw_stop(full | {"planned_draw": draw}, "us") for draw in ("0.3 bbl", "2 bbl")]
    [None, 'zero']
    """
    _, planned = read("planned_draw", readings.get("planned_draw", ""), system)
    if not _fits(planned.si, work_out("margin", readings, system).results.get("draw_to_zero")):
        return ZERO
    to_floor = work_out("to_floor", readings, system).results.get("volume_lost")
    return FLOOR if readings.get("floor_pressure") and not _fits(planned.si, to_floor) else None


def _fits(planned, margin):
    return margin is not None and planned < margin.value - (margin.uncertainty or 0.0)
