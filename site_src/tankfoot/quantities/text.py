"""The text a person types for a quantity: "10 psi", "0,7 bar", "−1 °C", "10 ± 0.5 psi", or a bare number.

The grammar is strict and the same in both languages: what is not plainly one number is refused, never guessed.
"""

import math
import re
from dataclasses import dataclass
from functools import lru_cache

from tankfoot.quantities.units import dimension, normalized, symbols_by_name, units

LONGEST_TEXT = 64
KEPT = 20_000  # texts whose reading is remembered: of a record of years few differ
SPACES = re.compile("[ \t\u00a0\u2009\u202f]+")
MINUS_SIGNS = re.compile("[\u2212\u2013\u2012\ufe63\uff0d]")
PLUS_MINUS = re.compile(r"±|\+/-")
NUMBER = re.compile(r"([+-]?)([0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)([eE][+-]?[0-9]{1,3})? ?([^0-9.,+\-].*)?", re.DOTALL)
NOT_FINITE = re.compile(r"[+-]?(nan|inf|infinity|∞)( .*)?", re.DOTALL)
COMMA_AND_THREE_DIGITS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


class RefusedText(Exception):
    """A text that is not a quantity. ``code`` is a stable word shared with the browser."""

    def __init__(self, code):
        super().__init__(code)
        self.code = code


@dataclass(frozen=True)
class Reading:
    """A quantity as it was read: ``value`` in ``unit`` (a symbol), and both in SI.

    ``uncertainty`` is the ± in SI, None where none was given.
    """

    value: float
    unit: str
    si: float
    uncertainty: float | None


@lru_cache(KEPT)
def read_quantity(text, kind, bare_unit):
    """The Reading in ``text`` for a ``kind`` of quantity; a number without a unit is in ``bare_unit``.

    Raises RefusedText with the code ``empty``, ``too-long``, ``not-a-number``, ``not-finite``, ``ambiguous-number``,
    ``unknown-unit``, ``wrong-dimension`` or ``bad-uncertainty``.

    >>> read_quantity("0,7 bar", "gauge_pressure", "psi").si
    70000.0
    >>> read_quantity("10 ± 0.5 psi", "gauge_pressure", "bar").unit
    'psi'
    """
    if len(text) > LONGEST_TEXT:
        raise RefusedText("too-long")
    text = MINUS_SIGNS.sub("-", SPACES.sub(" ", text)).strip(" ")
    if not text:
        raise RefusedText("empty")
    middle, *rest = PLUS_MINUS.split(text)
    if len(rest) > 1:
        raise RefusedText("bad-uncertainty")
    value, unit_name = _read_number(middle.strip(" "))
    spread, spread_unit = None, None
    if rest:
        spread, spread_unit = _read_spread(rest[0].strip(" "))
        if spread_unit and not unit_name and spread_unit != "%":
            unit_name = spread_unit
    unit = _find_unit(unit_name, kind) if unit_name else units()[bare_unit]
    si = value * unit.factor + unit.offset
    uncertainty = None
    if spread is not None:
        if spread_unit == "%" and unit.symbol != "%":
            uncertainty = abs(si) * spread / 100.0
        else:
            uncertainty = spread * (_find_unit(spread_unit, kind) if spread_unit else unit).factor
    if not math.isfinite(si) or not math.isfinite(uncertainty or 0.0):
        raise RefusedText("not-finite")
    return Reading(value, unit.symbol, si, uncertainty)


def _read_number(text):
    if NOT_FINITE.fullmatch(text.lower()):
        raise RefusedText("not-finite")
    match = NUMBER.fullmatch(text)
    if not match:
        raise RefusedText("not-a-number")
    sign, digits, exponent, unit_name = match.groups()
    if COMMA_AND_THREE_DIGITS.fullmatch(digits):
        raise RefusedText("ambiguous-number")
    return float(sign + digits.replace(",", ".") + (exponent or "")), (unit_name or "").strip(" ")


def _read_spread(text):
    try:
        spread, unit_name = _read_number(text)
    except RefusedText as refused:
        raise RefusedText("bad-uncertainty") from refused
    if spread < 0.0:
        raise RefusedText("bad-uncertainty")
    return spread, unit_name


def _find_unit(name, kind):
    symbol = symbols_by_name().get(normalized(name))
    if symbol is None:
        raise RefusedText("unknown-unit")
    unit = units()[symbol]
    if unit.dimension != dimension(kind):
        raise RefusedText("wrong-dimension")
    return unit


RANGES = {
    "read_quantity": "typed quantity",
}
