"""The simulated tank: every scenario by the right acts and by the wrong ones, and nothing lost on the way."""

import json
import random
from functools import cache

import pytest
from drawn_rehearsal import act_row, scenario
from tankfoot.rehearsal.acts import act
from tankfoot.rehearsal.model import begin, step
from tankfoot.rehearsal.moves import pressure_of
from tankfoot.rehearsal.play import play
from tankfoot.rehearsal.scenarios import happened, scenarios
from tankfoot.rehearsal.seen import done, seen
from tankfoot.rehearsal.setup import own_tank
from tankfoot.wording import words

HOLD_LIQUIDS = ("tank", "between", "glass", "pipe", "bucket", "drain", "floor")
NEVER_NEGATIVE = (
    "co2", "air", "co2_made", "co2_supplied", "co2_lost", "air_in", "air_lost", "blow_bucket", "trapped", "flow", "jet",
    "jet_push", "hiss", "relief", "vacuum", "rises", "overrun", "spilt", "speed", "core",
)
CLOSE = 1e-9
RIGHT = [(name, None) for name in scenarios()]
WRONG = [(name, wrong) for name, one in scenarios().items() for wrong in one["wrong"]]
SHUT_A_LITTLE_EARLY = [
    {"t": 5.0, "act": "isolation", "to": 1.0}, {"t": 8.0, "act": "flow-valve", "to": 0.1},
    {"t": 19.0, "act": "flow-valve", "to": 0.0},
]
MET = {  # the scenarios that a cellar hand meets
    "first-day-trub", "yeast-after-harvest", "hops-that-plug", "leaking-isolation", "sticking-gauge", "cold-and-fast",
    "packed-glass", "alarm", "phone-call", "half-done", "own-tank",
}


@cache
def played(name, wrong):
    one = scenarios()[name]
    acts, until = (one["right"], None) if wrong is None else (one["wrong"][wrong]["acts"], one["wrong"][wrong]["until"])
    return play(one, name, acts, until)


def codes(run):
    return [each["happened"] for each in run["state"]["happened"]]


def kept(state):
    """What must stay as it is: beer, solids and water wherever they are, CO2 and air with what came and went."""
    held = [sum(state[place][which] for place in HOLD_LIQUIDS) for which in range(3)]
    held[2] += state["blow_bucket"]
    co2 = state["co2"] + state["co2_lost"] - state["co2_made"] - state["co2_supplied"]
    return [*held, co2, state["air"] + state["air_lost"] - state["air_in"]]


def hold_together(state, at_first):
    assert kept(state) == pytest.approx(at_first, rel=CLOSE, abs=CLOSE)
    negative = [name for name in NEVER_NEGATIVE if state[name] < 0.0]
    negative += [place for place in HOLD_LIQUIDS if min(state[place]) < 0.0]
    assert not negative, negative
    assert pressure_of(state) > 0.0
    assert 150.0 < state["gas_temperature"] < 400.0
    assert state["core"] <= 1.0


def test_there_are_the_scenarios_that_a_hand_meets():
    assert len(scenarios()) >= 12
    assert set(scenarios()) >= MET


@pytest.mark.parametrize("name", scenarios())
def test_the_right_acts_do_what_counts_as_done(name):
    run = played(name, None)
    assert [each["done"] for each in done(run["state"], scenarios()[name]["done"]) if not each["met"]] == []


@pytest.mark.parametrize(("name", "wrong"), WRONG, ids=map("-".join, WRONG))
def test_a_typical_mistake_does_what_it_would_do(name, wrong):
    run = played(name, wrong)
    assert scenarios()[name]["wrong"][wrong]["shows"] in codes(run)
    assert not all(each["met"] for each in done(run["state"], scenarios()[name]["done"]))


@pytest.mark.parametrize(("name", "wrong"), RIGHT + WRONG)
def test_nothing_is_lost_and_nothing_is_negative(name, wrong):
    one = scenarios()[name]
    state, rows = begin(one, name), list(one["right"] if wrong is None else one["wrong"][wrong]["acts"])
    at_first = kept(state)
    for _ in range(1600):
        while rows and rows[0]["t"] * 20.0 <= state["steps"]:
            state = act(state, rows.pop(0))
        state = step(state)
        if state["steps"] % 4 == 0:
            hold_together(state, at_first)


def test_nothing_is_lost_by_any_acts(pytestconfig):
    rng, acts = random.Random("random acts"), pytestconfig.getoption("random_acts")
    while acts > 0:
        state = begin(scenario(rng), str(rng.random()))
        at_first = kept(state)
        for _ in range(rng.randint(1, 25)):
            state, acts = act(state, act_row(rng)), acts - 1
            hold_together(state, at_first)
            for _ in range(rng.choice((1, 5, 60))):
                state = step(state)
                hold_together(state, at_first)


def test_an_act_or_a_step_changes_no_state_that_it_was_given():
    rng = random.Random("kept states")
    for _ in range(40):
        state = begin(scenario(rng), str(rng.random()))
        for _ in range(6):
            row, before = act_row(rng), json.dumps(state)
            after = step(act(state, row))
            assert json.dumps(state) == before
            state = after


def test_a_kept_state_goes_on_as_the_run_did():
    one = scenarios()["hops-that-plug"]
    run = play(one, "kept", one["right"], 30.0)
    again = play(one, "kept", [row for row in one["right"] if row["t"] <= 20.0], 20.0)["state"]
    again = json.loads(json.dumps(again))
    for row in one["right"]:
        while again["steps"] < min(row["t"], 30.0) * 20.0:
            again = step(again)
        if 20.0 < row["t"] <= 30.0:
            again = act(again, row)
    while again["steps"] < 600:
        again = step(again)
    assert again == run["state"]


def test_chance_follows_the_seed():
    one = scenarios()["hops-that-plug"]

    def plugs(seed):
        return [each["t"] for each in play(one, seed, one["right"], 40.0)["events"] if each.get("happened") == "plug"]

    assert plugs("a") == plugs("a")
    assert len({tuple(plugs(str(seed))) for seed in range(8)}) > 4


def test_a_slow_draw_brings_the_solids_and_a_fast_one_leaves_them():
    slow, fast = played("plain-trub", None)["state"], played("plain-trub", "too-fast")["state"]
    at_first = slow["setup"]["solids_at_first"]
    assert slow["tank"][1] < 0.1 * at_first
    assert fast["tank"][1] > 0.3 * at_first
    assert fast["setup"]["beer_at_first"] - fast["tank"][0] > 3.0 * (slow["setup"]["beer_at_first"] - slow["tank"][0])


def test_the_wrong_clamp_empties_the_tank():
    run = played("plain-trub", "wrong-clamp")
    assert codes(run)[:1] == ["jet"]
    assert {"cannot", "tank-empty"} <= set(codes(run))
    assert sum(run["state"]["tank"]) < 0.005
    jet = next(each["facts"] for each in run["events"] if each.get("happened") == "jet")
    assert jet["flow"] > 0.005 and jet["push"] > 100.0 and jet["from"] == "tank-side"


def test_a_hand_sees_the_needle_and_not_the_pressure():
    run = play(scenarios()["sticking-gauge"], "1", scenarios()["sticking-gauge"]["right"], 12.0)
    assert seen(run["state"])["gauge"] - run["state"]["gauge"] > 3e4
    assert "tank" not in json.dumps(seen(run["state"])).replace("tank_side", "")


def test_every_act_that_cannot_be_done_says_why():
    rng, reasons = random.Random("refused"), set()
    for _ in range(150):
        state = begin(scenario(rng), "1")
        for _ in range(12):
            state = step(act(state, act_row(rng)))
        reasons |= {each["facts"]["reason"] for each in state["happened"] if each["happened"] == "cannot"}
    assert reasons == set(words("rehearsal")["reasons"])


def test_an_act_that_is_none_is_refused():
    state = begin(scenarios()["plain-trub"], "1")
    for name, to in (("isolation", 1.5), ("isolation", True), ("hose", "sink"), ("gas", 1), ("kick", 1.0)):
        with pytest.raises(ValueError, match="is no act"):
            act(state, {"act": name, "to": to})


def test_every_thing_that_happens_is_seen_in_some_run():
    shown = {code for name, wrong in RIGHT + WRONG for code in codes(played(name, wrong))}
    shown |= set(codes(play(scenarios()["plain-trub"], "1", SHUT_A_LITTLE_EARLY, None)))
    assert shown == set(happened())


def test_every_mistake_says_what_would_have_stopped_it():
    for code, row in happened().items():
        said = words("rehearsal")["happened"][code]
        assert said["says"]
        assert not row["mistake"] or said["instead"].count(".") == 1
        assert not row["mistake"] or code in words("rehearsal")["wrong"]  # for the log


@pytest.mark.parametrize(("changed", "can"), [
    ({}, True), ({"rated_pressure": 0.0}, True), ({"rated_pressure": None, "head_volume": 0.3}, True),
    ({"pressure": 0.0}, True),
    ({"pressure": 1e6}, False), ({"beer_volume": 0.0}, False), ({"beer_volume": 50.0}, False),
    ({"temperature": 400.0}, False),
])
def test_a_sites_own_tank_is_rehearsed_on_where_its_numbers_let_it(changed, can):
    one = scenarios()["own-tank"]
    body = one["tank"] | {"name": "FV 1", "stack": None, "hold_pressure": None} | changed
    made = own_tank(one, body, 83500.0)
    assert (made is not None) == can
    if can:
        run = play(made, "1", one["right"], 60.0)
        hold_together(run["state"], kept(begin(made, "1")))
