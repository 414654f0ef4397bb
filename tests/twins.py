"""What stands in both languages, and the calls that hold it together, drawn from what modules declare in ``RANGES``.

``RANGES`` stands at the end of a Python module that has a JavaScript twin, one entry for each function: a list with
what each argument may be, or the name of a way to draw them all. An argument is

- (low, high), a number between the two, and (low, high, *others) where single values matter besides;
- [one, another, ...], one of them;
- the name of something that ``drawn.py`` draws.
"""

import inspect
import math
import random
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial
from importlib import import_module
from pathlib import Path
from types import ModuleType

import tankfoot
from cases import SEED
from drawn import ARGUMENTS, DRAWN
from drawn_sums import arguments_of_a_sum
from tankfoot.site.joined import EXPORT

PACKAGE = Path(tankfoot.__file__).parent
SHARE_OF_A_SUM = 4  # so many times fewer calls, for the parity has its own cases
WIDE = 100.0  # high over low from which on numbers are drawn over decades as well

# Where the Python of a JavaScript file has another name.
OTHER_NAME = {"record/validate.js": "record/entry.py", "wording/sentences.js": "wording/__init__.py"}
# What JavaScript exports and nobody calls directly, and why.
EXCUSED = {
    "calculators/reckon.js": {
        "calculatorModule": "loads a module; every parity goes through it",
        "reckon": "every parity is its comparison",
        "readField": "marshmallow does it in Python; every parity goes through it",
        "fieldProblem": "marshmallow does it in Python; every parity goes through it",
    },
    "office/transfer.js": {
        "checkSize": "Python asks a file for its size, check.py",
        "readBytes": "no bytes in JSON; what is no text is compared by test_import.py",
        "lineOf": "exportFile is made of such lines; the files are compared",
        "fileOf": "exportFile is made by it; the files are compared",
    },
    "office/csv_export.js": {"newTable": "purgesCsv is made by it; the tables are compared"},
    "record/canonical.js": {"digestOfText": "digest is its answer for a canonical text"},
    "purge/machine.js": {
        "instantOf": "answers in ms, Python with the text; the table of purges and what a purge tells go through it",
        "isBeforeLast": "asks the phone's clock",
        "tables": "the steps themselves; every walk through them is compared",
    },
    "purge/shuffle.js": {"draws": "gives numbers without end; every order and view is made of them"},
    "purge/outcome.js": {
        "read": "answers with each language's own declaration; what a purge tells goes through it",
        "workOut": "every parity is its comparison; what a purge tells goes through it",
    },
    "quantities/text.js": {"offered": "stands in units.py; every parity compares the units"},
    "wording/sentences.js": {
        "problemSentence": "every parity compares the sentence of each refusal",
        "filled": "Python has it built in; every parity compares sentences",
        "ofCount": "Python asks Babel; what is counted is compared in sentences",
    },
    "quantities/locale.js": dict.fromkeys(("locale", "local"), "asks the phone for its region"),
    "wording/words.js": dict.fromkeys(("words", "listed", "languageName"), "asks the page for its language"),
}


@dataclass(frozen=True)
class Twin:
    """A JavaScript file of the shared rooms, by its ``path``, and the Python ``module`` it is the twin of, if any."""

    path: str
    module: ModuleType | None

    @property
    def is_sum(self):
        """Whether it is a calculator, which the parity of its sum compares."""
        return hasattr(self.module, "Inputs")

    @property
    def ranges(self):
        return getattr(self.module, "RANGES", {})

    @cached_property
    def exports(self):
        """The names that the JavaScript gives to others, but for classes and what is excused."""
        found = EXPORT.findall((PACKAGE / self.path).read_text(encoding="utf-8"))
        return {name for kind, name in found if not kind.startswith("class")} - set(EXCUSED.get(self.path, ()))

    @property
    def constants(self):
        """The names of what both languages have and no call leads to."""
        return sorted(name for name in self.exports if name.isupper() and hasattr(self.module, name))

    def calls(self, count):
        """``count`` calls of each function, the same ones every time, and one for each constant."""
        if self.is_sum:
            return self._calls_of_a_sum(count)
        made = [Call(self.path, name, partial(getattr, self.module, name), []) for name in self.constants]
        for name, ranges in self.ranges.items():
            function, rng = getattr(self.module, name), random.Random(f"{SEED} {self.path} {name}")
            made += [Call(self.path, camel(name), function, given) for given in drawn(function, ranges, count, rng)]
        return made


    def _calls_of_a_sum(self, count):
        """Those of all functions but ``compute``, which the parity compares."""
        id = self.module.__name__.rpartition(".")[2].replace("_", "-")
        rng = random.Random(f"{SEED} {self.path}")
        return [
            Call(self.path, name, getattr(self.module, name), arguments_of_a_sum(rng, id, name))
            for name in sorted(self.exports & {"refusals", "remarks", "curve"})
            for _ in range(count // SHARE_OF_A_SUM)
        ]


@dataclass(frozen=True)
class Call:
    """One call: the ``path`` of the JavaScript, the ``name`` there, the ``function`` in Python, and the arguments."""

    path: str
    name: str
    function: Callable
    arguments: list

    def __str__(self):
        return f"{self.path} {self.name}({', '.join(map(repr, self.arguments))})"


def twins():
    """{path: Twin} of every JavaScript file in a room that has both languages."""
    paths = sorted(f"{path.parent.name}/{path.name}" for path in PACKAGE.glob("*/*.js"))
    return {path: Twin(path, _module(OTHER_NAME.get(path, path.replace(".js", ".py")))) for path in paths}


def _module(path):
    name = path.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
    return import_module(f"tankfoot.{name}") if (PACKAGE / path).exists() else None


def camel(name):
    first, *rest = name.split("_")
    return first + "".join(part.capitalize() for part in rest)


def drawn(function, ranges, count, rng):
    """``count`` lists of arguments within ``ranges``, the ends of all of them first."""
    if isinstance(ranges, str):
        return [ARGUMENTS[ranges](rng) for _ in range(count)]
    if not ranges:
        return [[]]
    spans = [isinstance(span, tuple) for span in ranges]
    ends = [
        [span[end] if is_span else _one(rng, span) for span, is_span in zip(ranges, spans, strict=True)]
        for end in (0, 1)
        if any(spans)
    ]
    return ends + [_arguments(rng, function, ranges) for _ in range(count)]


def _arguments(rng, function, ranges):
    given = [_one(rng, span) for span in ranges]
    if rng.random() < 0.3:
        _coincide(rng, ranges, given)
    left_out = sum(p.default is not p.empty for p in inspect.signature(function).parameters.values())
    return given[: len(given) - rng.randint(0, left_out)] if rng.random() < 0.2 else given


def _one(rng, span):
    if isinstance(span, str):
        return DRAWN[span](rng)
    if isinstance(span, list):
        return rng.choice(span)
    low, high, *others = span
    if rng.random() < 0.15:
        return rng.choice((low, high))
    if others and rng.random() < 0.25:
        return rng.choice(others)
    if isinstance(low, int):
        return rng.randint(low, high)
    if low > 0.0 and high > WIDE * low and rng.random() < 0.5:
        return math.exp(rng.uniform(math.log(low), math.log(high)))
    return rng.uniform(low, high)


def _coincide(rng, ranges, given):
    """Makes one number that of another, or of some others together, or a little more: where most borders are."""
    numbers = [i for i, value in enumerate(given) if isinstance(value, float)]
    if len(numbers) < 2:
        return
    changed, *others = rng.sample(numbers, rng.randint(2, min(4, len(numbers))))
    together = sum(given[i] for i in sorted(others)) * rng.choice((1.0, 1.0, 1.0, 1.01))
    if isinstance(ranges[changed], tuple) and ranges[changed][0] <= together <= ranges[changed][1]:
        given[changed] = together
