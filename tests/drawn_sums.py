"""Arguments of a sum's own functions: inputs and results as its cases have them, with some put on a border.

Borders are where refusals and remarks begin: the numbers in the module itself, and what two inputs have in common.
"""

import math
import random
from functools import cache
from types import CodeType, SimpleNamespace

from both import Both
from cases import SEED, a_case
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.quantities.units import dimension

POOL = 120  # answered cases of a sum that arguments are drawn from


def arguments_of_a_sum(rng, id, name):
    """The arguments of a sum's ``refusals``, ``remarks`` or ``curve``."""
    inputs, results = map(dict, rng.choice(answered(id)))
    for _ in range(rng.randint(0, 2)):
        changed = rng.choice((inputs, results) if name == "remarks" else (inputs,))
        changed |= _on_a_border(rng, calculators()[id], changed, {**inputs, **results})
    x = Both(lambda told: SimpleNamespace(**inputs), inputs)
    return [x, *{"refusals": (), "remarks": (results,), "curve": (10.0 ** rng.uniform(-4.0, 6.0),)}[name]]


@cache
def answered(id):
    """[(inputs, results)] in SI of generated cases that have an answer."""
    rng, calculator, found = random.Random(f"{SEED} {id} answered"), calculators()[id], []
    while len(found) < POOL:
        case = a_case(rng, calculator)
        outcome = reckon(calculator, case.texts, case.system)
        if not outcome.problems:
            inputs = {name: reading and reading.si for name, reading in outcome.inputs.items()}
            found.append((inputs, {name: result and result.value for name, result in outcome.results.items()}))
    return found


def _on_a_border(rng, calculator, values, known):
    """{name: value} of one of the ``values`` on a border or just beside it, as far as its limits go.

    A border is a number of the module or one that is ``known`` of the same dimension, or what is left between the two.
    """
    kinds = {name: field.kind for name, field in calculator.fields.items()} | calculator.results
    name = rng.choice([name for name, value in values.items() if value is not None])
    alike = [value for other, value in known.items()
             if value is not None and other != name and dimension(kinds[other]) == dimension(kinds[name])]
    border, other = rng.choice(borders(calculator.id)), rng.choice([0.0, *alike])
    border = rng.choice((border, other, border - other))
    beside = (border, border, math.nextafter(border, math.inf), math.nextafter(border, -math.inf), border * 1.0001)
    field = calculator.fields.get(name)
    reached = [value for value in beside if field is None or field.low <= value <= field.high]
    return {name: rng.choice(reached)} if reached else {}


@cache
def borders(id):
    """Every number that a sum's module has, in its constants and in its functions."""
    module = calculators()[id].module
    own = [thing.__code__ for thing in vars(module).values()
           if hasattr(thing, "__code__") and thing.__module__ == module.__name__]
    return tuple(sorted({0.0, *_numbers(list(vars(module).values())), *_numbers(own)}))


def _numbers(thing):
    if type(thing) in (int, float):
        yield float(thing)
    elif isinstance(thing, CodeType):
        yield from _numbers(thing.co_consts)
    elif isinstance(thing, list | tuple):
        for inner in thing:
            yield from _numbers(inner)
