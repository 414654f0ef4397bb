"""The guided purge's tables, walked in every way they can be."""

import re

import pytest
from tankfoot.calculators import calculators
from tankfoot.checklists import checklists
from tankfoot.purge.machine import (
    AGED,
    ANYWHERE,
    FIRST,
    LAST,
    LATEST,
    WrongEvent,
    begins,
    grown_old,
    holds_of,
    next_state,
    standing,
    state_after,
    sums,
    tables,
)
from tankfoot.record.bodies import HOLDS
from tankfoot.site.sources import PACKAGE
from tankfoot.wording import words

NEW = [name for name in tables() if name != "1"]
GATES = {
    "1": ("gate-valve", "gate-pressure", "gate-cap", "gate-clamp"),
    **dict.fromkeys(NEW, ("gate-valve", "gate-pressure", "gate-count", "gate-glass", "gate-cap", "gate-clamp")),
}
ALL_GATES = [(table, gate) for table, gates in GATES.items() for gate in gates]


def roads(table, state):
    """{event: [states it may lead to]}."""
    step = tables()[table][state]
    found = {**step.events, **({"skip": step.skip} if step.skip else {})}
    return {event: [*target.values()] if isinstance(target, dict) else [target] for event, target in found.items()}


def reachable(table, start, shut=(), ways=None):
    seen, ahead = set(), [start]
    while ahead:
        state = ahead.pop()
        if state not in seen and state not in shut:
            seen.add(state)
            ahead += [target for event, targets in roads(table, state).items() if not ways or event in ways(state)
                      for target in targets]
    return seen


def at(*names):
    return [{"event": name} for name in names]


@pytest.mark.parametrize("table", tables())
def test_every_state_can_be_reached_and_every_state_leads_to_the_end(table):
    assert reachable(table, FIRST) == set(tables()[table])
    assert all(LAST in reachable(table, state) for state in tables()[table])


@pytest.mark.parametrize("table, gate", ALL_GATES)
def test_no_way_to_a_take_down_passes_a_gate_by(table, gate):
    assert "takedown" not in reachable(table, FIRST, shut={gate})


@pytest.mark.parametrize("table", NEW)
@pytest.mark.parametrize("gate", ["cap-valve", "cap-clamp"])
def test_no_cap_comes_off_without_its_gate(table, gate):
    assert "cap-off" not in reachable(table, FIRST, shut={gate})


@pytest.mark.parametrize("table", tables())
def test_no_gate_can_be_skipped_and_the_wrong_clamp_leads_back_to_the_question(table):
    assert all(step.skip is None for step in tables()[table].values() if step.gate or step.lines)
    assert roads(table, "gate-wrong") == {"understood": ["gate-clamp"]}
    assert next_state("gate-clamp", "tank-side", table=table) == "gate-wrong"


@pytest.mark.parametrize("table", NEW)
def test_each_question_of_a_gate_has_three_answers_or_more_and_one_alone_leads_to_the_clamp(table):
    for state in ("gate-valve", "gate-pressure", "gate-count", "gate-glass", "gate-cap"):
        onward = [event for event in roads(table, state)
                  if "takedown" in reachable(table, roads(table, state)[event][0], shut={state, "ready"})]
        assert len(roads(table, state)) == 3
        # with this question and the start shut, only the right answer still finds a way to the take-down
        assert len(onward) == 1, state


@pytest.mark.parametrize("table", NEW)
def test_while_beer_can_run_closed_is_there_and_nothing_of_it_grows_old_or_can_be_refused(table):
    running = [step for step in tables()[table].values() if step.running]
    assert {step.state for step in running} == {"run", "already-open", "flowing", "beer"}
    for step in running:
        assert "closed" in step.events and "closed" in step.facts
        assert next_state(step.state, "closed", table=table) == "after"
        assert step.state == "run" or step.again is None


@pytest.mark.parametrize("table", tables())
def test_every_event_in_every_state_is_defined_or_refused(table):
    states = tables()[table]
    events = {event for state in states for event in roads(table, state)} | {*ANYWHERE, "nonsense", "constructor"}
    for state in states:
        for event in events:
            if event in roads(table, state) or (event in ANYWHERE and state not in (FIRST, LAST)):
                assert next_state(state, event, table=table) in states
            else:
                with pytest.raises(WrongEvent):
                    next_state(state, event, table=table)
    with pytest.raises(WrongEvent):
        next_state("nowhere", "trouble", table=table)


@pytest.mark.parametrize("table", tables())
def test_undo_goes_one_step_back(table):
    for state in tables()[table]:
        before = shortest(table, state)
        for event in roads(table, state):
            assert state_after(at(*before, event, "undo"), table) == state


@pytest.mark.parametrize("table", tables())
def test_undo_with_nothing_before_it_does_nothing(table):
    assert state_after(at("undo"), table) == FIRST
    assert state_after(at("begin", "undo", "undo"), table) == FIRST
    assert state_after(at("begin", "bogus", "undo"), table) == "ready"
    with pytest.raises(WrongEvent):
        state_after(at("begin", "bogus"), table)


def shortest(table, goal, first="begin"):
    """The names of the fewest events that lead from the first step to ``goal``."""
    ahead, seen = [[]], set()
    while ahead:
        names = ahead.pop(0)
        state = state_after(at(*names), table)
        if state == goal:
            return names
        if (state, "closed" in names, *names[:1]) not in seen:
            seen.add((state, "closed" in names, *names[:1]))
            ahead += [[*names, event] for event in roads(table, state)]
    raise AssertionError(goal)


# Which way a tank is taken follows from how it stood at the start: nothing is shut, and no pressure is drawn on, while
# yeast makes gas into a bucket. Common practice, no source.
@pytest.mark.parametrize("table", NEW)
@pytest.mark.parametrize("begin, kind", begins().items())
def test_an_open_tank_is_never_shut_and_no_gauge_of_it_is_counted(table, begin, kind):
    before = shortest(table, "contact", begin)
    names = [begin, *before[1:], "time-over"]
    seen = []
    while (state := state_after(at(*names), table)) != "run":
        seen.append(state)
        names.append(next(iter(roads(table, state))))
    assert ("pressure" in seen, "gas" in seen, "margin" in seen) == (kind == "closed",) * 3
    assert ("vent" in seen) == (kind in ("bubbling", "open")) and ("spund" in seen) == (kind == "spunding")


def test_hooked_up_before_the_tank_is_brought_up_unless_the_site_wants_the_old_order():
    def order(table):
        names, seen = ["begin"], []
        while (state := state_after(at(*names), table)) != "run":
            seen.append(state)
            names.append(next(iter(roads(table, state))))
        return seen.index("hookup") < seen.index("pressure")

    assert (order(LATEST), order("2-gas-first")) == (True, False)


def made(names, start=0, gap=10):
    minutes = [start + place * gap for place in range(len(names))]
    return [{"event": name, "at": f"2026-03-01T07:{s // 60:02d}:{s % 60:02d}.000Z"}
            for name, s in zip(names, minutes, strict=True)]


@pytest.mark.parametrize("table", NEW)
def test_a_check_grows_old_with_time_a_card_and_another_hand_and_undo_does_not_make_it_young(table):
    names = shortest(table, "gate-clamp")
    events, now = made(names), "2026-03-01T07:30:00.000Z"
    last = events[-1]["at"]
    assert not grown_old(events, last, None, table)
    # common practice, no source: half an hour away, and what was seen is looked at again
    assert grown_old(events, "2026-03-01T09:00:00.000Z", None, table)
    for more in (["trouble"], ["trouble", "undo"], ["hand"], ["hand", "undo", "undo"]):
        assert grown_old([*events, *[{"event": name, "at": last} for name in more]], last, None, table), more
    events[-1]["data"] = {"by": "AB"}
    assert not grown_old(events, last, "AB", table) and grown_old(events, last, "CD", table)
    aged = [*events, {"event": AGED, "at": now, "data": {"by": "CD"}}]
    assert state_after(aged, table) == "gate-valve" and not grown_old(aged, now, "CD", table)
    undone = [*aged, {"event": "undo", "at": now}]
    assert state_after(undone, table) == "gate-valve" and standing(undone) == standing(aged)


@pytest.mark.parametrize("table", NEW)
def test_what_grows_old_goes_back_to_the_first_question_that_it_rests_on(table):
    back = {step.state: step.again for step in tables()[table].values() if step.again}
    before_the_run = {
        "ready", "cap-valve", "cap-clamp", "cap-wrong", "cap-off", "sanitise", "contact", "hookup", "vent", "feed",
        "spund", "pressure", "gas", "margin", "run",
    }
    assert {state for state, again in back.items() if again == "ready"} == before_the_run
    check = {*GATES[table], "gate-wrong", "takedown"}
    assert {state for state, again in back.items() if again == "gate-valve"} == check
    assert {state for state, again in back.items() if again == "cap"} == {"rinse", "cap"}
    assert state_after(at(*shortest(table, "run"), AGED), table) == "ready"


@pytest.mark.parametrize("table", NEW)
def test_a_stop_holds_the_tank_until_it_is_cleared_and_leads_back_to_the_first_question(table):
    for step in tables()[table].values():
        if step.hold is None:
            continue
        assert step.hold in HOLDS and step.skip is None
        names = shortest(table, step.state)
        assert holds_of(at(*names), table) == [step.hold]
        assert holds_of(at(*names, "undo"), table) == []
        if "cleared" in step.events:
            assert holds_of(at(*names, "cleared"), table) == []
    leaks = [*shortest(table, "gate-pressure"), "keeps-coming"]
    assert state_after(at(*leaks, "cleared"), table) == "gate-valve"
    capless = at("begin", "all-there", "across", "outer", "hisses", "again")
    assert state_after(capless, table) == "ready"


@pytest.mark.parametrize("table", tables())
def test_every_step_has_its_words_and_every_reading_and_sum_its_declaration(table):
    said = words("purge_steps")
    for step in tables()[table].values():
        assert set(step.events) <= set(said[step.state].get("events", {}))
        assert {*step.saves, *step.pressures} <= set(sums()["readings"])
        assert set(step.saves) <= set(words("purge")["fields"])
        for line in step.lines:
            list_, id = line.split(".")
            assert id in [each.id for each in checklists()[list_].lines]


def test_no_words_are_kept_for_a_step_that_is_in_no_table():
    assert set(words("purge_steps")) == {state for table in tables().values() for state in table}


def test_every_reading_and_sum_has_its_declaration():
    for like in sums()["readings"].values():
        calculator, field = like.split(".")
        assert field in calculators()[calculator].fields
    for sum_ in sums()["sums"].values():
        assert set(sum_["inputs"]) <= set(calculators()[sum_["calculator"]].fields)


def test_what_a_step_has_is_what_the_page_can_show():
    page = (PACKAGE / "site" / "templates" / "purge.html").read_text(encoding="utf-8")
    has = {name for step in tables()[LATEST].values() for name in step.has}
    assert has == set(re.findall(r"'([\w-]+)' in step\.has", page))
    assert not re.search(r"step\.state (==|in)", page)
