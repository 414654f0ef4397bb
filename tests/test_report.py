"""Figures of many purges, held against pandas, exact fractions and sums by hand."""

import json
import math
import random
from fractions import Fraction
from pathlib import Path

import drawn_report
import pandas
import pytest
import tankfoot
from CoolProp.CoolProp import PropsSI
from tankfoot.report.baseline import FIRST, baseline_of
from tankfoot.report.exact import exact_sum
from tankfoot.report.facts import AMOUNTS, as_columns, fact_of
from tankfoot.report.figures import figure, figures_of
from tankfoot.report.groups import groups_of, week_of

DEMO = Path(tankfoot.__file__).parent / "site" / "assets" / "demo" / "record.json"
NO_PRICES = {"beer_value": None, "gas_price": None, "wage": None}


def demo_purges():
    entries = json.loads(DEMO.read_text(encoding="utf-8"))["entries"]
    return [entry for entry in entries if entry["kind"] == "purge" and entry["body"].get("state") == "saved"]


@pytest.fixture(scope="module")
def facts():
    return as_columns([fact_of(purge, None) for purge in demo_purges()])


@pytest.fixture(scope="module")
def frame():
    """The same purges as pandas sees them, read from the file and from nothing of Tankfoot's."""
    rows = [{"kind": purge["body"]["solids"], "tank": purge["body"]["tank_name"],
             **{name: told["value"] for name, told in purge["body"]["result"].items()}} for purge in demo_purges()]
    return pandas.DataFrame(rows)


# pandas: groupby, sum, median and count leave out what is missing, as documented for skipna.
@pytest.mark.parametrize("by, column", [("tanks", "tank"), ("solids", "kind")])
@pytest.mark.parametrize("name", [name for name in AMOUNTS if name != "beer_money"])
def test_sums_and_medians_by_group_are_those_of_pandas(facts, frame, by, column, name):
    groups = groups_of(facts, {}, "UTC")[by]
    theirs = frame.groupby(column)[AMOUNTS[name]]
    for group, ours in figures_of(facts, groups, NO_PRICES, {}):
        assert ours[name]["sum"] == pytest.approx(theirs.sum()[group], rel=1e-12)
        assert ours[name]["median"] == pytest.approx(theirs.median()[group], rel=1e-12)
        assert ours[name]["told"] == theirs.count()[group]
        assert ours["purges"] == (frame[column] == group).sum()


def test_the_beers_money_is_what_the_purges_told(facts, frame):
    (_, all_of_them), = figures_of(facts, [("all", range(len(facts["id"])))], NO_PRICES, {})
    assert all_of_them["money"]["sum"] == pytest.approx(frame["money_lost"].sum(), rel=1e-12)
    assert all_of_them["money_co2"]["told"] == all_of_them["money_hand"]["told"] == 0


def test_prices_of_the_basis_pay_for_co2_and_time(facts, frame):
    prices = {"beer_value": 1.0, "gas_price": 2.0, "wage": 36.0 / 3600.0}
    (_, made), = figures_of(facts, [("all", range(len(facts["id"])))], prices, {})
    expected = frame["money_lost"].sum() + 2.0 * frame["top_up_mass"].sum() + made["seconds"]["sum"] * 0.01
    assert made["money"]["sum"] == pytest.approx(expected, rel=1e-12)


# CoolProp's equation of state for CO2 (Span and Wagner 1996); air outside at the standard 101.325 kPa, or as read.
def test_the_co2_to_top_up_is_that_of_a_reference_equation_of_state(facts):
    total = 0.0
    for purge in demo_purges():
        read, told = purge["body"]["readings"], purge["body"]["result"]
        if "top_up_mass" not in told:
            continue
        temperature = (number(read["temperature"]) - 32.0) / 1.8 + 273.15
        outside = number(read["air_pressure"]) * 1000.0 if "air_pressure" in read else 101_325.0
        wanted, now = (
            PropsSI("D", "T", temperature, "P", outside + number(read[name]) * 6894.757293, "CO2")
            for name in ("target_pressure", "pressure_after")
        )
        space = number(read["headspace"]) * 0.117347765 + told["volume_lost"]["value"]  # a beer barrel in m3
        total += (wanted - now) * space
    (_, made), = figures_of(facts, [("all", range(len(facts["id"])))], NO_PRICES, {})
    assert made["co2_mass"]["sum"] == pytest.approx(total, rel=2e-3)


def number(text):
    return float(text.split()[0])


# Every float is a fraction, and fractions add up without an error.
def test_a_sum_is_the_float_nearest_to_the_true_one():
    rng = random.Random(15)
    for _ in range(500):
        values = drawn_report.values(rng)
        assert exact_sum(values) == float(sum(map(Fraction, values)))


# JCGM 100:2008: 5.2.2, NOTE 1 (correlation 1: the errors add), and 5.1.2 (correlation 0: their squares add).
def test_what_a_gauge_is_off_by_adds_up_and_what_a_reading_is_off_by_does_so_by_squares():
    assert figure([("FV 1", 1.0, 0.1, 0.0, 0.0)] * 100)["uncertainty"] == pytest.approx(10.0)
    assert figure([("", 1.0, 0.0, 0.1, 0.0)] * 100)["uncertainty"] == pytest.approx(10.0)
    assert figure([("FV 1", 1.0, 0.0, 0.0, 0.1)] * 100)["uncertainty"] == pytest.approx(1.0)
    two_tanks = [("FV 1", 1.0, 0.3, 0.0, 0.0), ("FV 2", 1.0, 0.4, 0.0, 0.0)]
    assert figure(two_tanks)["uncertainty"] == pytest.approx(0.5)


def test_the_uncertainty_of_a_sum_covers_it():
    """Of sums with errors drawn as said, about 68 in 100 lie within their ±: the normal distribution, one sigma."""
    rng = random.Random(16)
    inside, times = 0, 2000
    for _ in range(times):
        gauges = {tank: rng.gauss(0.0, 1.0) for tank in "abc"}
        share = rng.gauss(0.0, 1.0)
        parts, error = [], 0.0
        for _ in range(12):
            tank, tool, assumed, own = rng.choice("abc"), 0.03, 0.05, 0.2
            parts.append((tank, 1.0, tool, assumed, own))
            error += gauges[tank] * tool + share * assumed + rng.gauss(0.0, own)
        inside += abs(error) <= figure(parts)["uncertainty"]
    assert 0.65 < inside / times < 0.715  # 0.683, and three sigma of a count of 2,000


def purges_with(seconds):
    """Facts of purges of one kind, one a day, closed so many seconds past the colour change."""
    count = len(seconds)
    return {
        "id": [f"{n:04d}" for n in range(count)], "at": [f"2026-03-{n + 1:02d}T07:00:00.000Z" for n in range(count)],
        "kind": ["hops"] * count, "past": seconds,
    }


def test_the_baseline_stands_still_while_hands_improve():
    early = [30.0, 28.0, 31.0, 29.0, 30.0, 33.0, 27.0, 30.0, 32.0, 30.0]
    base = baseline_of(purges_with(early), None, None)
    assert base == {"hops": {"seconds": 30.0, "purges": FIRST}}  # the middle of the ten, by hand
    assert baseline_of(purges_with(early + [2.0] * 15), None, None) == base
    assert baseline_of(purges_with(early[:9]), None, None) == {}


def test_a_period_that_the_owner_names_is_the_baseline():
    seconds = [30.0] * 10 + [10.0, 11.0, 12.0, 13.0, 14.0] + [2.0] * 5
    since, until = "2026-03-11T00:00:00.000Z", "2026-03-16T00:00:00.000Z"
    assert baseline_of(purges_with(seconds), since, until) == {"hops": {"seconds": 12.0, "purges": 5}}
    assert baseline_of(purges_with(seconds), since, "2026-03-14T00:00:00.000Z") == {}


def test_saved_is_time_at_the_flow_of_the_purge():
    fact = dict.fromkeys(as_columns([])) | {
        "id": "a", "at": "2026-03-01T07:00:00.000Z", "kind": "hops", "tool": "", "assumed": True,
        "volume_lost": 0.06, "volume_lost_doubt": 0.0, "run": 60.0, "past": 10.0,
    }
    (_, made), = figures_of(as_columns([fact]), [("all", [0])], NO_PRICES, {"hops": {"seconds": 25.0}})
    assert made["saved"]["sum"] == pytest.approx(0.015)  # 15 s less at 1 L/s
    assert made["saved"]["uncertainty"] == pytest.approx(0.001)  # one second at 1 L/s


# ISO 8601 as Python's datetime has it; JavaScript is held to Python by the twins.
def test_the_first_days_of_a_year_are_of_the_week_with_its_thursday():
    assert [week_of(day) for day in ("2024-12-30", "2026-01-01", "2027-01-01")] == ["2025-W01", "2026-W01", "2026-W53"]


def test_the_order_of_purges_changes_nothing(facts):
    shuffled = list(range(len(facts["id"])))
    random.Random(3).shuffle(shuffled)
    other = {name: [column[row] for row in shuffled] for name, column in facts.items()}
    one, two = (dict(figures_of(each, groups_of(each, {}, "UTC")["tanks"], NO_PRICES, baseline_of(each, None, None)))
                for each in (facts, other))
    assert one == two
    assert all(math.isfinite(told["overrun"]["uncertainty"]) for told in one.values())
