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

POOL = 40  # answered cases of a sum that arguments are drawn from


def arguments_of_a_sum(rng, id, name):
    """The arguments of a sum's ``refusals``, ``remarks`` or ``curve``."""
    inputs, results = rng.choice(answered(id))
    inputs, results = dict(inputs), dict(results)
    for _ in range(rng.randint(0, 2)):
        changed = rng.choice((inputs, results) if name == "remarks" else (inputs,))
        changed |= _on_a_border(rng, id, changed)
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


def _on_a_border(rng, id, values):
    """{name: value} of one of them on a border or just beside it, as far as its limits go."""
    numbers = [name for name, value in values.items() if value is not None]
    border, name = rng.choice((*borders(id), *(values[name] for name in numbers))), rng.choice(numbers)
    beside = (border, math.nextafter(border, math.inf), math.nextafter(border, -math.inf), border * (1.0 + 1e-3))
    value, field = rng.choice((border, *beside)), calculators()[id].fields.get(name)
    return {name: value} if field is None or field.low <= value <= field.high else {}


@cache
def borders(id):
    """Every float that a sum's module has, in its constants and in its functions."""
    module = calculators()[id].module
    own = [thing.__code__ for thing in vars(module).values()
           if hasattr(thing, "__code__") and thing.__module__ == module.__name__]
    return tuple(sorted({0.0, *_floats(list(vars(module).values())), *_floats(own)}))


def _floats(thing):
    if isinstance(thing, float):
        yield thing
    elif isinstance(thing, CodeType):
        yield from _floats(thing.co_consts)
    elif isinstance(thing, list | tuple):
        for inner in thing:
            yield from _floats(inner)
