"""What the next purge learns from those that were: read off a written past."""

from datetime import UTC, datetime, timedelta

import pytest
from tankfoot.purge.past import past_of, rest_between
from tankfoot.usual.expected import buckets_for, expected_loss

MORNING = datetime(2026, 3, 2, 7, tzinfo=UTC)
GALLON = 3.785411784e-3  # m3, NIST Handbook 44


def at(days, seconds=0.0):
    moment = MORNING + timedelta(days=days, seconds=seconds)
    return moment.strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.microsecond // 1000:03d}Z"


def purge(day, change=60.0, closed=70.0, tank="a", solids="trub", lost=(0.004, 0.006), more=()):
    after = {"opened": 0.0, "colour-change": change, "closed": closed}
    events = [{"event": name, "at": at(day, gone)} for name, gone in after.items() if gone is not None]
    named = zip(("beer_in_solids", "overrun"), lost, strict=False)
    result = {name: {"value": value, "uncertainty": None} for name, value in named}
    return {"tank": tank, "solids": solids, "events": [*events, *more], "result": result}


def test_seconds_rest_and_loss_of_each_in_time():
    first, other, second = past_of([purge(3, 45.5), purge(0, lost=(0.004,)), purge(1, tank="b")])
    # by hand: three days from opened to opened, less the 70 s that the first was open
    assert (first["seconds"], first["rest"], first["loss"]) == (60.0, None, None)
    assert (second["seconds"], second["rest"], second["loss"]) == (45.5, pytest.approx(3.0 - 70.0 / 86400.0), 0.01)
    assert (other["tank"], other["rest"]) == ("b", None)


def test_a_change_that_nobody_saw_tells_no_seconds_but_a_rest():
    first, second = past_of([purge(0, change=None), purge(2)])
    assert first["seconds"] is None
    assert second["rest"] == pytest.approx(2.0, rel=1e-3)


def test_a_tap_that_was_taken_back_tells_nothing():
    undone = {"event": "undo", "at": at(0, 80.0)}
    assert past_of([purge(0, more=[undone])]) == []  # it was not closed
    taken_back = [{"event": "colour-change", "at": at(0, 30.0)}, undone]
    [found] = past_of([purge(0, change=None, closed=None, more=[*taken_back, {"event": "closed", "at": at(0, 90.0)}])])
    assert found["seconds"] is None


@pytest.mark.parametrize("wrong", [
    {"closed": -5.0}, {"change": 90.0}, {"change": -1.0}, {"closed": None}, {"tank": None},
])
def test_a_clock_that_was_set_back_a_port_still_open_and_no_tank_are_left_out(wrong):
    assert past_of([purge(0, **wrong)]) == []


@pytest.mark.parametrize(("days", "rest"), [(2.5, 2.5), (14.0, 14.0), (14.01, None), (0.0, None), (-1.0, None)])
def test_more_than_a_fortnight_is_no_rest_of_one_beer(days, rest):
    assert rest_between(at(0), at(days)) == rest


def test_across_a_filling_no_beer_rested():
    # read off: filled on the second day, so that only the last of three had its rest
    was = [purge(0), purge(3), purge(5)]
    assert [found["rest"] is None for found in past_of(was, {"a": [at(2)]})] == [True, True, False]
    assert [found["rest"] is None for found in past_of(was, {"b": [at(2)]})] == [True, False, False]
    assert rest_between(at(0), at(2), [at(2)]) is None
    assert rest_between(at(0), at(2), [at(0), at(2.1)]) == 2.0


def told(solids, gallons, doubt=None):
    return {"solids": solids, "result": {"volume_lost": {"value": gallons * GALLON, "uncertainty": doubt}}}


def test_the_same_kind_of_solids_is_asked_where_three_of_it_tell():
    past = [told("hops", 9.0), told("trub", 4.0), told("trub", 6.0), told("trub", 7.0), told("trub", 1.0, GALLON * 2.0)]
    of_trub, of_hops = expected_loss(past, "trub"), expected_loss(past, "hops")
    # by hand: the middle of 4, 6 and 7; of 4, 6, 7 and 9, the mean of 6 and 7. What is under its ± tells nothing.
    assert (of_trub["value"], of_trub["count"], of_trub["of_kind"]) == (pytest.approx(6.0 * GALLON), 3, True)
    assert (of_hops["value"], of_hops["count"], of_hops["of_kind"]) == (pytest.approx(6.5 * GALLON), 4, False)
    assert expected_loss([{"solids": "trub", "result": {}}], "trub") is None


def test_a_bucket_that_would_be_full_to_the_brim_gets_another():
    assert [buckets_for(gallons, 5.0) for gallons in (0.5, 4.9, 5.0, 11.0)] == [1, 1, 2, 3]
