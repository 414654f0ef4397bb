"""Works one sum out, from the texts that were typed to results with their ±."""

import math
from dataclasses import dataclass, field
from functools import cached_property
from types import SimpleNamespace

from marshmallow import ValidationError

from tankfoot.quantities.field import Problem
from tankfoot.quantities.format import format_result
from tankfoot.quantities.propagate import propagate, within_reach
from tankfoot.quantities.text import Reading
from tankfoot.quantities.units import offered


@dataclass(frozen=True)
class Result:
    """One result: SI ``value`` and ``uncertainty`` (or None), the ``unit`` it is shown in, and the texts shown."""

    value: float
    uncertainty: float | None
    unit: str
    doubtful: bool

    @property
    def text(self):
        return self.shown["text"]

    @property
    def give_or_take(self):
        return self.shown["give_or_take"]

    @cached_property
    def shown(self):
        """Both texts: made once somebody looks, which nobody does where years of purges are reckoned again."""
        return format_result(self.value, self.uncertainty, self.unit)


@dataclass(frozen=True)
class Outcome:
    """What became of one sum: either ``problems`` ([(field, Problem)]) or results."""

    inputs: dict[str, Reading | None] = field(default_factory=dict)
    results: dict[str, Result | None] = field(default_factory=dict)
    remarks: list[str] = field(default_factory=list)
    problems: list[tuple[str, Problem]] = field(default_factory=list)


def reckon(calculator, texts, system="us"):
    """The Outcome of a ``calculator`` for ``texts`` ({field: text}), bare numbers and results in a unit ``system``."""
    try:
        loaded = calculator.forms[system].read(texts)
    except ValidationError as error:
        return Outcome(problems=_in_form_order(calculator, error.messages))
    readings = {name: loaded.get(name) for name in calculator.fields}
    inputs = {name: reading.si if reading else None for name, reading in readings.items()}
    module = calculator.module
    refused = list(module.refusals(SimpleNamespace(**inputs)))
    if refused:
        return Outcome(problems=[(name, Problem(code)) for name, code in refused])

    def compute(values):
        return module.compute(SimpleNamespace(**values))

    values = within_reach(compute, inputs)
    doubts = values and propagate(compute, inputs, _uncertainties(calculator, readings), values)
    if values is None or not all(map(math.isfinite, doubts.values())):
        return Outcome(problems=[(next(iter(calculator.fields)), Problem("out-of-reach"))])
    steps = getattr(module, "STEPPED", ())
    results = {
        name: _result(values[name], None if name in steps else doubts.get(name), offered(kind, system)[0])
        for name, kind in calculator.results.items()
    }
    return Outcome(readings, results, list(module.remarks(SimpleNamespace(**inputs), values)))


def _in_form_order(calculator, messages):
    known = [name for name in calculator.fields if name in messages]
    unknown = [name for name in messages if name not in calculator.fields]
    return [(name, messages[name][0]) for name in known + unknown]


def _uncertainties(calculator, readings):
    doubts = {}
    for name, reading in readings.items():
        if reading is None:
            continue
        given = reading.uncertainty
        doubt = calculator.fields[name].usual_uncertainty(reading.si) if given is None else given
        if doubt is not None:
            doubts[name] = doubt
    return doubts


def _result(value, uncertainty, unit):
    if value is None:
        return None
    doubtful = uncertainty is not None and uncertainty > abs(value)
    return Result(value, uncertainty, unit, doubtful)
