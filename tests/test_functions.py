"""Every function that both languages have answers alike, called directly over the arguments it declares."""

import json
import time

import pytest
from direct import answer, compare_calls, iterates, same
from drawn import formula
from tankfoot.site.joined import EXPORT
from twins import EXCUSED, PACKAGE, Call, camel, twins

TWINS = {path: twin for path, twin in twins().items() if twin.module}
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
    given = [call for path in TWINS if path.startswith(f"{room}/") for call in TWINS[path].calls(count)]
    differences = compare_calls(evaluate, served.address, given)
    tell(f"functions of {room}: {len(given)} calls in {time.perf_counter() - started:.1f} s")
    shown = [f"{call}: {difference}" for call, difference in differences[:3]]
    assert not differences, f"{len(differences)} differences, such as {shown}"


@pytest.mark.parametrize("path", [path for path, twin in twins().items() if not twin.is_sum])
def test_everything_that_javascript_exports_is_called(path):
    twin = twins()[path]
    assert twin.exports == {*map(camel, twin.ranges), *twin.constants}


def test_nothing_is_excused_that_is_not_there():
    for path, names in EXCUSED.items():
        text = (PACKAGE / path).read_text(encoding="utf-8")
        assert set(names) <= {name for _, name in EXPORT.findall(text)}


@pytest.mark.parametrize("path", TWINS)
def test_the_arguments_reach_answers(path):
    # A quarter: the ranges of some go past what has an answer, on purpose, at one end.
    made = [(call.name, answer(call)) for call in TWINS[path].calls(100)]
    for name in {name for name, _ in made}:
        reached = [told.get("value") for called, told in made if called == name]
        assert sum(value != "no answer" for value in reached) >= len(reached) / 4, name


def test_the_same_calls_come_every_time():
    def told():
        return json.dumps(TWINS["physics/roots.js"].calls(50), default=vars_of)

    def vars_of(thing):
        return [thing.name, thing.arguments] if isinstance(thing, Call) else thing.json

    assert told() == told()


def test_a_formula_is_asked_the_same_things():
    our = answer(Call("", "", lambda fn: fn(3.0), [formula("x * x")]))
    assert our == {"value": 9.0, "asked": [3.0]}


def test_only_a_function_with_a_root_in_it_gets_the_wider_tolerance():
    # Source: the volume of a frustum is a cubic of its depth; its depth has no closed form here.
    cone = TWINS["physics/cone.js"].module
    assert iterates(cone.solids_depth) and not iterates(cone.solids_volume)


@pytest.mark.parametrize(("our", "their"), [
    (1.0, 1.000000000002), (0.0, 1e-300), (1.0, True), (True, 1.0), ("1", 1.0), ([1.0], [1.0, 2.0]), (None, 0.0),
    ({"a": 1.0}, {"b": 1.0}), ("no answer", None), (0.5, "0.5"),
])
def test_answers_that_differ_are_told_apart(our, their):
    assert not same(our, their, 1e-12)
    assert same(our, our, 1e-12)
