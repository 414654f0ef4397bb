"""Whether a pressure is above the one on the tank's plate."""

from tankfoot.purge.outcome import read


def above_plate(pressures, readings, system):
    """The first of the readings named in ``pressures`` that is above the rated one, None where none is known to be.

    ``readings``: texts as typed, bare numbers in the units of ``system``. Nothing is above a plate that is not known.
    Raises UnreadReading.

    >>> readings = {"rated_pressure": "15 psi", "pressure_found": "15 psi", "target_pressure": "1.1 bar"}
    >>> above_plate(["pressure_found", "target_pressure"], readings, "us")
    'target_pressure'
    """
    if not readings.get("rated_pressure"):
        return None
    rated = read("rated_pressure", readings["rated_pressure"], system)[1].si
    named = (name for name in pressures if readings.get(name))
    return next((name for name in named if read(name, readings[name], system)[1].si > rated), None)


RANGES = {"above_plate": "pressures of a purge"}
