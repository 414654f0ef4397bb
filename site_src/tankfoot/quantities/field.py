"""A marshmallow field that knows a quantity's kind, limits and usual doubt, and a form made of such fields."""

import math
from dataclasses import dataclass, field

from marshmallow import RAISE, Schema, ValidationError, fields, pre_load

from tankfoot.quantities.format import format_in
from tankfoot.quantities.text import LONGEST_TEXT, RefusedText, read_quantity
from tankfoot.quantities.units import KINDS, SYSTEMS, offered

POISSON = "poisson"
SPACES = " \t\u00a0\u2009\u202f"


class DeclarationError(Exception):
    """A field that is declared wrong: what is wrong, what to do."""


@dataclass(frozen=True)
class Problem:
    """Why something typed was refused: a stable ``code`` and the facts its sentence needs."""

    code: str
    facts: dict[str, str] = field(default_factory=dict)


class Quantity(fields.Field):
    """A number with a unit. It is read from text and held as a Reading.

    ``kind``: a kind of quantity from the units table; it fixes the dimension, the units on offer and whether a
    pressure is gauge or absolute. ``low`` and ``high``: hard limits, as text. ``default``: what holds when nothing
    is given. ``example``: what the page shows at first, for a value that only the person can know. Both are one
    text for everybody or a dict of one for each system of units. ``uncertainty``: the usual ±, absolute ("0.5 psi") or
    relative ("5 %"), used where the person gives none; "poisson" for things counted, whose ± is the square root of
    the count, and 1 where none was seen. ``optional``: may be left empty.

    Refuses with the codes of ``read_quantity`` and ``too-low``, ``too-high``, ``unknown-field``.
    """

    default_error_messages = {"required": [Problem("empty")], "null": [Problem("empty")]}

    def __init__(self, kind, *, low, high, default=None, example=None, uncertainty=None, optional=False):
        super().__init__(required=default is None and not optional)
        if kind not in KINDS:
            raise DeclarationError(f"{kind!r} is no kind of quantity: take one of KINDS in quantities/units.py")
        self.kind = kind
        self.bare_units = {system: offered(kind, system)[0] for system in SYSTEMS}
        self.low = self._declared(low).si
        self.high = self._declared(high).si
        self.defaults = _by_system(default)
        self.examples = _by_system(example if example is not None else default)
        self._check_within_limits()
        self.optional = optional
        self.counted = uncertainty == POISSON
        self.uncertainty = uncertainty
        self.relative, self.absolute = self._doubt(uncertainty)

    def bare_unit(self, system):
        """The unit of a number typed without one."""
        return self.bare_units[system]

    def usual_uncertainty(self, si):
        """The usual ± (SI) of a reading of ``si``, or None."""
        if self.counted:
            return math.sqrt(max(si, 1.0))
        if self.relative is not None:
            return abs(si) * self.relative
        return self.absolute

    def _declared(self, text, system="us"):
        """The Reading of a text that stands in the declaration."""
        try:
            return read_quantity(text, self.kind, self.bare_unit(system))
        except RefusedText as refused:
            names = ", ".join(dict.fromkeys(symbol for one in SYSTEMS for symbol in offered(self.kind, one)))
            wrong = f"{text!r} cannot be read as {self.kind} ({refused.code}): write a number and one of {names}"
            raise DeclarationError(wrong) from refused

    def _check_within_limits(self):
        for system in SYSTEMS:
            for text in (self.defaults[system], self.examples[system]):
                if text is not None and not self.low <= self._declared(text, system).si <= self.high:
                    raise DeclarationError(f"{text!r} is outside the field's own low and high: change one of them")

    def _doubt(self, text):
        if text is None or text == POISSON:
            return None, None
        reading = self._declared(f"1 ± {text}")
        if text.endswith("%") and self.bare_unit("us") != "%":
            return reading.uncertainty / abs(reading.si), None
        return None, reading.uncertainty

    def _deserialize(self, value, attr, data, **kwargs):
        if not isinstance(value, str):
            raise ValidationError([Problem("not-a-number", self._facts("us"))])
        system = self.root.system
        try:
            reading = read_quantity(value, self.kind, self.bare_unit(system))
        except RefusedText as refused:
            raise ValidationError([Problem(refused.code, self._facts(system))]) from refused
        if reading.si < self.low:
            raise ValidationError([Problem("too-low", self._facts(system))])
        if reading.si > self.high:
            raise ValidationError([Problem("too-high", self._facts(system))])
        return reading

    def remembered(self, text, system):
        """The Reading of a ``text``, None where it is refused."""
        try:
            reading = read_quantity(text, self.kind, self.bare_units[system])
        except RefusedText:
            return None
        return reading if self.low <= reading.si <= self.high else None

    def _facts(self, system):
        symbol = self.bare_unit(system)
        low, high = format_in(self.low, symbol), format_in(self.high, symbol)
        names = ", ".join(offered(self.kind, system))
        return {"low": low, "high": high, "units": names, "longest": str(LONGEST_TEXT)}


def _by_system(text):
    return text if isinstance(text, dict) else dict.fromkeys(SYSTEMS, text)


class Form(Schema):
    """The inputs of one sum, read in one ``system`` of units: {name: text} in, {name: Reading or None} out."""

    error_messages = {"unknown": Problem("unknown-field")}

    class Meta:
        unknown = RAISE

    def __init__(self, system="us"):
        super().__init__()
        self.system = system

    def read(self, texts):
        """What ``load`` gives, by readings that are remembered; where one of them is refused, ``load`` says why."""
        readings = {}
        for name, quantity in self.fields.items():
            text = texts.get(name, "")
            if _is_empty(text):
                text = quantity.defaults[self.system]
                if text is None and not quantity.required:
                    continue
            readings[name] = quantity.remembered(text, self.system) if isinstance(text, str) else None
            if readings[name] is None:
                return self.load(texts)
        return readings if texts.keys() <= self.fields.keys() else self.load(texts)

    @pre_load
    def settle_what_is_empty(self, texts, **kwargs):
        """Puts defaults where nothing was given and leaves out optional fields that are empty."""
        texts = dict(texts)
        for name, quantity in self.fields.items():
            if _is_empty(texts.get(name, "")):
                texts.pop(name, None)
                if quantity.defaults[self.system] is not None:
                    texts[name] = quantity.defaults[self.system]
        return texts


def _is_empty(text):
    return isinstance(text, str) and not text.strip(SPACES)
