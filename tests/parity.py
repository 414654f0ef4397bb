"""Holds the two languages together: the same cases through Python and the frozen files in a real browser."""

import json
import re
import sys
from dataclasses import asdict

from tankfoot.calculators.reckon import reckon
from tankfoot.quantities.units import units
from tankfoot.wording import problem_sentence

CLOSE = 1e-12  # relative, for what is worked out directly
CLOSE_BY_ITERATION = 1e-9  # relative, where a root is found step by step, and for every ±
NUMBERS = (("value", "text", None), ("uncertainty", "give_or_take", CLOSE_BY_ITERATION))
FLOOR = 1e-3  # of the displayed resolution, where a result passes through zero

# Runs in the page. The answer is text: JSON keeps every float to the bit.
RECKON_IN_BROWSER = """
async (given) => {
  const { root, id, cases } = JSON.parse(given);
  const { take } = await import(`${root}js/tankfoot.js`);
  const { calculatorModule, reckon } = await take("calculators/reckon.js");
  const { problemSentence } = await take("wording/sentences.js");
  const twin = await calculatorModule(id);
  return JSON.stringify(cases.map(({ texts, system }) => {
    try {
      const { problems, ...outcome } = reckon(id, twin, texts, system);
      return { ...outcome, problems: problems.map((p) => [p.field, p.code, problemSentence(id, p)]) };
    } catch (error) {
      return { raised: String(error) };
    }
  }));
}
"""

SUPERSCRIPTS = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
SHOWN_NUMBER = re.compile(r"[0-9]+(?:\.([0-9]+))?(?:×10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+))?")


def compare(evaluate, root, calculator, generated, ours=None):
    """Differences between Python and the browser over ``generated`` cases: [(case, sentence)].

    ``evaluate(function, text)`` runs a JavaScript function of one text in the browser and returns its answer;
    ``ours`` is what Python reckoned of the cases, where that is known.
    """
    given = {"root": root, "id": calculator.id, "cases": [asdict(case) for case in generated]}
    theirs = json.loads(evaluate(RECKON_IN_BROWSER, json.dumps(given)))
    assert len(theirs) == len(generated)
    close = CLOSE_BY_ITERATION if iterates(calculator.module) else CLOSE
    ours = ours or [reckoned(calculator, case) for case in generated]
    return [
        (case, difference)
        for case, our, their in zip(generated, ours, theirs, strict=True)
        for difference in _differences(our, their, close)
    ]


def reckoned(calculator, case):
    """Python's outcome in the browser's shape."""
    outcome = reckon(calculator, case.texts, case.system)
    return {
        "inputs": {name: reading and asdict(reading) for name, reading in outcome.inputs.items()},
        "results": {name: result and asdict(result) | result.shown for name, result in outcome.results.items()},
        "remarks": outcome.remarks,
        "problems": [
            [field, problem.code, problem_sentence(calculator.id, field, problem)]
            for field, problem in outcome.problems
        ],
    }


def iterates(module):
    """Whether a root is found by iteration in a module or in any it takes from."""
    return "tankfoot.physics.roots" in _reached(module.__name__, set())


def _reached(name, seen):
    """The names of all physics modules a module takes functions from, at first or at second hand."""
    taken = [thing for thing in vars(sys.modules[name]).values() if callable(thing)]
    for origin in sorted({getattr(thing, "__module__", None) or "" for thing in taken}):
        if origin.startswith("tankfoot.physics.") and origin not in seen:
            seen.add(origin)
            _reached(origin, seen)
    return seen


def _differences(ours, theirs, close):
    if "raised" in theirs:
        yield f"raised: {theirs['raised']}"
        return
    for part in ("problems", "remarks", "inputs"):
        if ours[part] != theirs[part]:
            yield f"{part}: {ours[part]} != {theirs[part]}"
    if list(ours["results"]) != list(theirs["results"]):
        yield f"results: {list(ours['results'])} != {list(theirs['results'])}"
        return
    for name, our in ours["results"].items():
        found = _result_differences(our, theirs["results"][name], close)
        yield from (f"{name}: {difference}" for difference in found)


def _result_differences(our, their, close):
    if our is None or their is None:
        if our is not their:
            yield f"{our} != {their}"
        return
    for part in ("unit", "doubtful", "text", "give_or_take"):
        if our[part] != their[part]:
            yield f"{part}: {our[part]!r} != {their[part]!r}"
    factor = units()[our["unit"]].factor
    for part, shown, relative in NUMBERS:
        relative = relative or close
        if not _agree(our[part], their[part], relative, our[shown], factor):
            yield f"{part}: {our[part]!r} != {their[part]!r}"


def _agree(ours, theirs, relative, shown, factor):
    if ours is None or theirs is None:
        return ours is theirs
    resolution = displayed_resolution(shown) * factor
    floor = FLOOR * resolution if abs(ours) < resolution else 0.0
    return abs(ours - theirs) <= max(relative * abs(ours), floor)


def displayed_resolution(text):
    """The worth of the last digit of a shown number.

    >>> displayed_resolution("−0.44 bbl"), displayed_resolution("2.50×10¹² L"), displayed_resolution("1235")
    (0.01, 10000000000.0, 1.0)
    """
    fraction, power = SHOWN_NUMBER.search(text).groups()
    return float(f"1e{int((power or '0').translate(SUPERSCRIPTS)) - len(fraction or '')}")
