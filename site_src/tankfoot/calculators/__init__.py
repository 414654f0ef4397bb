"""The sums. One calculator is one module (its inputs, results, cautions and formula), its JavaScript twin
beside it, and its words in the wording room under the same name.

A calculator module declares

- ``Inputs``: a Form of Quantity fields;
- ``RESULTS``: {name: kind of quantity}, the main result first;
- ``CAUTIONS``: {name: signal word}, always shown;
- ``refusals(x)``: pairs of a field and a code, for inputs that are fine alone but not together;
- ``compute(x)``: {name: SI float or None}, the formula;
- ``remarks(x, y)``: names of remarks that hold for these inputs and results;

and, where it has use for them,

- ``MORE``: names of fields that the page folds away at first, besides those that have a default;
- ``STEPPED``: names of results that go in steps, for which a first-order ± would be wrong: they get none;
- ``PLOT``: the curve beside the sum (see ``plot.py``).

``x`` has the inputs as attributes, in SI, None where an optional one was left empty; ``y`` is a dict of results.
"""

import pkgutil
from dataclasses import dataclass
from functools import cache, cached_property
from importlib import import_module
from pathlib import Path
from traceback import extract_tb
from types import ModuleType

from tankfoot.quantities.field import DeclarationError
from tankfoot.quantities.units import SYSTEMS

SIGNALS = ("DANGER", "WARNING", "CAUTION", "NOTICE")


class CalculatorError(Exception):
    """A calculator that is declared wrong: in which file, what is wrong, what to do."""


@dataclass(frozen=True)
class Calculator:
    """One declared sum. ``id`` is the module's name with hyphens."""

    id: str
    module: ModuleType

    @cached_property
    def forms(self):
        """One form for each system of units."""
        return {system: self.module.Inputs(system) for system in SYSTEMS}

    @property
    def fields(self):
        """{name: Quantity}, in the order of the form."""
        return self.forms["us"].fields

    @property
    def more(self):
        """Fields that the page folds away at first: those with a default, and the module's ``MORE``."""
        named = getattr(self.module, "MORE", ())
        return {name: q for name, q in self.fields.items() if name in named or q.defaults["us"] is not None}

    @property
    def results(self):
        """{name: kind of quantity}, the main result first."""
        return self.module.RESULTS


@cache
def calculators():
    """All calculators by id: every module of this room that declares inputs."""
    found = (calculator(_id(name)) for name in _names())
    return {each.id: each for each in found if each}


@cache
def calculator(id):
    """The calculator of that ``id`` alone, for whoever wants no other; None where there is none."""
    name = next((name for name in _names() if _id(name) == id), None)
    module = name and _loaded(name)
    return Calculator(id, module) if hasattr(module, "Inputs") else None


def _names():
    return [found.name for found in pkgutil.iter_modules(__path__)]


def _loaded(name):
    try:
        return import_module(f"{__name__}.{name}")
    except DeclarationError as wrong:
        room = Path(__file__).parent
        place = [frame for frame in extract_tb(wrong.__traceback__) if Path(frame.filename).parent == room][-1]
        raise CalculatorError(f"calculators/{Path(place.filename).name}, line {place.lineno}: {wrong}.") from wrong


def _id(name):
    return name.replace("_", "-")
