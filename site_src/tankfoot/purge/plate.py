"""Whether a pressure is above the one on the tank's plate."""

from tankfoot.calculators import calculators
from tankfoot.purge.machine import sums
from tankfoot.purge.outcome import UnreadReading
from tankfoot.quantities.text import RefusedText, read_quantity


def above_plate(pressures, readings, system):
    """The first of the readings named in ``pressures`` that is above the rated one, None where none is known to be.

    ``readings``: texts as typed, bare numbers in the units of ``system``; one that is past what the sums take is above
    the plate all the same. Nothing is above a plate that is not known. Raises UnreadReading.

    >>> readings = {"rated_pressure": "15 psi", "pressure_found": "15 psi", "target_pressure": "1.1 bar"}
    >>> above_plate(["pressure_found", "target_pressure"], readings, "us")
    'target_pressure'
    """
    if not readings.get("rated_pressure"):
        return None
    rated = _pascals("rated_pressure", readings, system)
    named = (name for name in pressures if readings.get(name))
    return next((name for name in named if _pascals(name, readings, system) > rated), None)


def _pascals(name, readings, system):
    calculator, like = sums()["readings"][name].split(".")
    declared = calculators()[calculator].fields[like]
    try:
        return read_quantity(readings[name], declared.kind, declared.bare_unit(system)).si
    except RefusedText as refused:
        raise UnreadReading(name, refused.code) from refused


RANGES = {"above_plate": "pressures of a purge"}
