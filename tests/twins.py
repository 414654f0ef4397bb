"""Holds the two languages together function by function, over the arguments that each module declares in ``RANGES``.

``RANGES`` stands at the end of a Python module that has a JavaScript twin, one entry for each public function: a list
with what each argument may be, or the name of a way to draw them all. An argument is

- (low, high), a number between the two, and (low, high, *others) where single values matter besides;
- [one, another, ...], one of them;
- a name of something that ``drawn.py`` draws.
"""

import inspect
import json
import math
import random
from collections.abc import Callable
from dataclasses import asdict, dataclass, is_dataclass
from functools import partial
from importlib import import_module
from pathlib import Path
from types import CodeType

import tankfoot
from cases import SEED
from drawn import ARGUMENTS, DRAWN, Both
from parity import CLOSE, CLOSE_BY_ITERATION
from tankfoot.physics.roots import brent_root
from tankfoot.site.joined import EXPORT

PACKAGE = Path(tankfoot.__file__).parent
NUMBERS = (int, float)  # and no truth value, which Python takes for one
WIDE = 100.0  # high over low from which on numbers are drawn over decades as well

# Public functions of twin modules that are not called directly, and why.
EXCUSED = {
    "calculators/reckon.py": {"reckon": "the parity of every sum is its comparison"},
    "calculators/reckon.js": {
        "calculatorModule": "loads a module; the parity of every sum goes through it",
        "reckon": "the parity of every sum is its comparison",
        "readField": "marshmallow does it in Python; the parity of every sum goes through it",
        "fieldProblem": "marshmallow does it in Python; the parity of every sum goes through it",
    },
    "quantities/text.js": {"offered": "stands in units.py; the parity of every sum compares the units"},
    "wording/sentences.js": {"problemSentence": "the parity of every sum compares each sentence"},
}

# Runs in the page. What is no finite number has no answer, as in within_reach; what a formula was asked is told too.
CALL_IN_BROWSER = """
async (given) => {
  const { root, calls } = JSON.parse(given);
  const { take } = await import(`${root}js/tankfoot.js`);
  const modules = {};
  let asked;
  const formula = (text) => {
    const fn = new Function("x", `const { sqrt } = Math; return (${text});`);
    return (x) => {
      asked.push(typeof x === "number" ? x : Object.values(x));
      return fn(x);
    };
  };
  const made = (value) => {
    if (value === null || typeof value !== "object") return value;
    if (Array.isArray(value)) return value.map(made);
    if ("$formula" in value) return formula(value.$formula);
    if ("$module" in value) return modules[value.$module];
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, made(inner)]));
  };
  const load = async (path) => { modules[path] ??= await take(path); };
  const finite = (key, value) => (typeof value === "number" && !Number.isFinite(value) ? "no answer" : value);
  const answers = [];
  for (const [path, name, given] of calls) {
    asked = [];
    try {
      for (const [, inner] of JSON.stringify(given).matchAll(/"[$]module":"([^"]+)"/g)) await load(inner);
      await load(path);
      const thing = modules[path][name];
      const value = typeof thing === "function" ? await thing(...made(given)) : thing;
      answers.push({ value: value ?? null, asked });
    } catch (error) {
      if (error instanceof RangeError) answers.push({ value: "no answer", asked });
      else if (error.code || error.constructor === Error) answers.push({ refused: error.code ?? null });
      else answers.push({ raised: String(error) });
    }
  }
  return JSON.stringify(answers, finite);
}
"""


@dataclass(frozen=True)
class Call:
    """One call of a twin: the ``path`` of its JavaScript, its names there and in Python, and the arguments."""

    path: str
    name: str
    function: Callable
    arguments: list

    def __str__(self):
        return f"{self.path} {self.name}({', '.join(map(repr, self.arguments))})"


def twins():
    """{path of a JavaScript file: the Python module of that name beside it}, for every room."""
    found = sorted(path for path in PACKAGE.glob("*/*.js") if path.with_suffix(".py").exists())
    return {
        f"{path.parent.name}/{path.name}": import_module(f"tankfoot.{path.parent.name}.{path.stem}")
        for path in found
    }


def is_sum(module):
    """Whether a module is a calculator, whose comparison is the parity of its sum."""
    return hasattr(module, "Inputs")


def functions(module):
    """{name: function} of what a module defines for others."""
    return {
        name: thing for name, thing in vars(module).items()
        if inspect.isroutine(thing) and thing.__module__ == module.__name__ and not name.startswith("_")
    }


def camel(name):
    first, *rest = name.split("_")
    return first + "".join(part.capitalize() for part in rest)


def exports(path):
    """The names that a twin's JavaScript gives to others, classes left out."""
    text = (PACKAGE / path).read_text(encoding="utf-8")
    return {name for kind, name in EXPORT.findall(text) if not kind.startswith("class")}


def calls(path, module, count):
    """``count`` calls of each function of a twin, the same ones every time; a constant that both have is called too."""
    constants = sorted(exports(path) & set(vars(module)) - set(functions(module)))
    return [Call(path, name, partial(getattr, module, name), []) for name in constants] + [
        Call(path, camel(name), functions(module)[name], arguments)
        for name, ranges in module.RANGES.items()
        for arguments in drawn(functions(module)[name], ranges, count, random.Random(f"{SEED} {path} {name}"))
    ]


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
    if rng.random() < 0.25:
        return rng.choice(span)
    if isinstance(low, int):
        return rng.randint(low, high)
    if low > 0.0 and high > WIDE * low and rng.random() < 0.5:
        return math.exp(rng.uniform(math.log(low), math.log(high)))
    return rng.uniform(low, high)


def _coincide(rng, ranges, given):
    """Makes one number that of another, or of some others together: where most borders are."""
    numbers = [i for i, value in enumerate(given) if isinstance(value, float)]
    if len(numbers) < 2:
        return
    changed, *others = rng.sample(numbers, rng.randint(2, min(4, len(numbers))))
    together = sum(given[i] for i in sorted(others))
    if isinstance(ranges[changed], tuple) and ranges[changed][0] <= together <= ranges[changed][1]:
        given[changed] = together


def compare_calls(evaluate, root, given, ours=None):
    """Differences between Python and JavaScript over calls: [(call, sentence)]; ``ours`` where it is known."""
    asked = {"root": root, "calls": [[call.path, call.name, call.arguments] for call in given]}
    theirs = json.loads(evaluate(CALL_IN_BROWSER, json.dumps(asked, default=lambda both: both.json)))
    ours = ours or [answer(call) for call in given]
    return [
        (call, f"{our} != {their}")
        for call, our, their in zip(given, ours, theirs, strict=True)
        if not same(our, their, CLOSE_BY_ITERATION if iterates(call.function) else CLOSE)
    ]


def answer(call):
    """Python's answer in the browser's shape."""
    told = []
    arguments = [_python(argument, told) for argument in call.arguments]
    try:
        return {"value": _plain(call.function(*arguments)), "asked": told}
    except (ArithmeticError, ValueError):
        return {"value": "no answer", "asked": told}
    except Exception as refused:
        if not type(refused).__module__.startswith("tankfoot."):
            raise
        return {"refused": getattr(refused, "code", None)}


def _python(value, told):
    if isinstance(value, Both):
        return value.for_python(told)
    return value


def _plain(value):
    if is_dataclass(value):
        value = asdict(value)
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]
    return "no answer" if isinstance(value, float) and not math.isfinite(value) else value


def same(our, their, close):
    """Whether two answers agree: numbers within ``close``, relative; all else to the character."""
    if isinstance(our, dict) and isinstance(their, dict):
        return our.keys() == their.keys() and all(same(our[key], their[key], close) for key in our)
    if isinstance(our, list) and isinstance(their, list):
        return len(our) == len(their) and all(same(a, b, close) for a, b in zip(our, their, strict=True))
    if type(our) in NUMBERS and type(their) in NUMBERS:
        return math.isclose(our, their, rel_tol=close, abs_tol=0.0)
    return type(our) is type(their) and our == their


def iterates(function):
    """Whether a function, or one that it calls, finds a root step by step."""
    seen, wanted = set(), [function]
    while wanted:
        one = wanted.pop()
        if one is brent_root:
            return True
        if one not in seen and hasattr(one, "__code__"):
            seen.add(one)
            wanted += [vars_ for name in _names(one.__code__) if callable(vars_ := one.__globals__.get(name))]
    return False


def _names(code):
    inner = (const for const in code.co_consts if isinstance(const, CodeType))
    return {*code.co_names, *(name for each in inner for name in _names(each))}
