"""Every function that both languages have answers alike, called directly over the arguments it declares."""

import json
import re
import time

import pytest
from drawn import formula
from tankfoot.site.joined import EXPORT
from twins import (
    EXCUSED,
    PACKAGE,
    Call,
    answer,
    calls,
    camel,
    compare_calls,
    exports,
    functions,
    iterates,
    same,
    twins,
)

TWINS = {path: module for path, module in twins().items() if path.startswith(("physics/", "quantities/"))}
ROOMS = sorted({path.split("/")[0] for path in TWINS})


@pytest.fixture(scope="module")
def evaluate(chromium, served):
    """Runs JavaScript in a page of the frozen site, which lets no other page make a function of a text."""
    context = chromium.new_context(service_workers="block", bypass_csp=True)
    page = context.new_page()
    page.goto(served.address)
    yield page.evaluate
    context.close()


@pytest.mark.parametrize("room", ROOMS)
def test_every_function_answers_alike_in_both_languages(room, evaluate, served, pytestconfig, tell):
    count, started = pytestconfig.getoption("twin_cases"), time.perf_counter()
    given = [call for path in TWINS if path.startswith(f"{room}/") for call in calls(path, TWINS[path], count)]
    differences = compare_calls(evaluate, served.address, given)
    tell(f"functions of {room}: {len(given)} calls in {time.perf_counter() - started:.1f} s")
    shown = [f"{call}: {difference}" for call, difference in differences[:3]]
    assert not differences, f"{len(differences)} differences, such as {shown}"


@pytest.mark.parametrize("path", TWINS)
def test_every_function_declares_its_arguments(path):
    excused = set(EXCUSED.get(path.replace(".js", ".py"), ()))
    assert set(getattr(TWINS[path], "RANGES", ())) == set(functions(TWINS[path])) - excused


@pytest.mark.parametrize("path", TWINS)
def test_everything_that_javascript_exports_is_compared(path):
    compared = {call.name for call in calls(path, TWINS[path], 1)}
    assert exports(path) - set(EXCUSED.get(path, ())) == compared


def test_nothing_is_excused_that_is_not_there():
    for path, names in EXCUSED.items():
        text = (PACKAGE / path).read_text(encoding="utf-8")
        assert set(names) <= {name for _, name in EXPORT.findall(text)} | set(re.findall(r"^def (\w+)", text, re.M))


@pytest.mark.parametrize("path", TWINS)
def test_the_arguments_reach_answers(path):
    # A quarter: the ranges of most go past what has an answer, on purpose, at one end.
    for name in TWINS[path].RANGES:
        made = [answer(call).get("value") for call in calls(path, TWINS[path], 100) if call.name == camel(name)]
        assert sum(value not in ("no answer", None) for value in made) >= len(made) / 4, name


def test_the_same_calls_come_every_time():
    def told():
        return json.dumps(calls("physics/roots.js", TWINS["physics/roots.js"], 50), default=vars_of)

    def vars_of(thing):
        return [thing.name, thing.arguments] if isinstance(thing, Call) else thing.json

    assert told() == told()


def test_a_formula_is_asked_the_same_things():
    our = answer(Call("", "", lambda fn: fn(3.0), [formula("x * x")]))
    assert our == {"value": 9.0, "asked": [3.0]}


def test_only_a_function_with_a_root_in_it_gets_the_wider_tolerance():
    # Source: the volume of a frustum is a cubic of its depth; its depth has no closed form here.
    ours = functions(TWINS["physics/cone.js"])
    assert iterates(ours["solids_depth"]) and not iterates(ours["solids_volume"])


@pytest.mark.parametrize(("our", "their"), [
    (1.0, 1.000000000002), (0.0, 1e-300), (1.0, True), (True, 1.0), ("1", 1.0), ([1.0], [1.0, 2.0]), (None, 0.0),
    ({"a": 1.0}, {"b": 1.0}), ("no answer", None), (0.5, "0.5"),
])
def test_answers_that_differ_are_told_apart(our, their):
    assert not same(our, their, 1e-12)
    assert same(our, our, 1e-12)
