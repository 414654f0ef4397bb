"""The guided purge's table, walked in every way it can be."""

import re

import pytest
from tankfoot.calculators import calculators
from tankfoot.purge.machine import FIRST, LAST, WrongEvent, next_state, state_after, steps, table
from tankfoot.site.app import PACKAGE
from tankfoot.wording import words


def roads(state):
    step = steps()[state]
    return {**step.events, **({"skip": step.skip} if step.skip else {})}


def reachable(start, shut=()):
    seen, ahead = set(), [start]
    while ahead:
        state = ahead.pop()
        if state not in seen and state not in shut:
            seen.add(state)
            ahead += roads(state).values()
    return seen


def test_every_state_can_be_reached_and_every_state_leads_to_the_end():
    assert reachable(FIRST) == set(steps())
    assert all(LAST in reachable(state) for state in steps())


@pytest.mark.parametrize("gate", ["gate-valve", "gate-pressure", "gate-cap", "gate-clamp"])
def test_no_way_to_a_take_down_passes_a_gate_by(gate):
    assert "takedown" not in reachable(FIRST, shut={gate})


def test_no_gate_can_be_skipped_and_the_wrong_clamp_leads_back_to_the_question():
    assert all(step.skip is None for step in steps().values() if step.gate)
    assert roads("gate-wrong") == {"understood": "gate-clamp"}
    assert next_state("gate-clamp", "tank-side") == "gate-wrong"


def test_every_event_in_every_state_is_defined_or_refused():
    events = {event for state in steps() for event in roads(state)} | {"trouble", "nonsense"}
    for state in steps():
        for event in events:
            known = event in roads(state) or (event == "trouble" and state not in (FIRST, LAST))
            if known:
                assert next_state(state, event) in steps()
            else:
                with pytest.raises(WrongEvent):
                    next_state(state, event)


def test_undo_goes_one_step_back():
    for state in steps():
        for event in roads(state):
            assert state_after(named(*shortest(state), event, "undo")) == state


def named(*names):
    return [{"event": name} for name in names]


def shortest(goal):
    ahead, seen = [(FIRST, [])], set()
    while ahead:
        state, events = ahead.pop(0)
        if state == goal:
            return events
        if state not in seen:
            seen.add(state)
            ahead += [(target, [*events, event]) for event, target in roads(state).items()]
    raise AssertionError(goal)


def test_every_step_has_its_words_and_every_reading_and_sum_its_declaration():
    said = words("purge")
    assert set(said["steps"]) == set(steps())
    for step in steps().values():
        assert set(said["steps"][step.state].get("events", {})) == set(step.events)
        assert set(step.saves) <= set(table()["readings"]) & set(said["fields"])
    for like in table()["readings"].values():
        calculator, field = like.split(".")
        assert field in calculators()[calculator].fields
    for sum_ in table()["sums"].values():
        assert set(sum_["inputs"]) <= set(calculators()[sum_["calculator"]].fields)


def test_what_a_step_has_is_what_the_page_can_show():
    page = (PACKAGE / "site" / "templates" / "purge.html").read_text(encoding="utf-8")
    assert {name for step in steps().values() for name in step.has} == set(re.findall(r"'([\w-]+)' in step\.has", page))
    assert not re.search(r"step\.state (==|in)", page)
