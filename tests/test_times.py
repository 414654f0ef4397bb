"""The times of a run whose colour change was tapped, was seen by a camera, or both."""

import pytest
from drawn_purges import body
from tankfoot.purge.clock import was_set_back
from tankfoot.purge.outcome import outcome_of
from tankfoot.purge.past import past_of
from tankfoot.purge.times import change_after, run_times
from tankfoot.report.facts import fact_of

GALLON = 3.785411784e-3  # m3: 231 cubic inches, NIST Handbook 44, appendix C
READINGS = {"flow": "6 gal/min", "beer_share": "0 %"}


def purge(overrun, taken=None, beer_at=None):
    """A port open for 70 s; what a camera saw where ``taken`` is not None."""
    seen = {} if taken is None else {"watched": {"taken": taken, "beer_at": beer_at}}
    made = body(READINGS, seconds=70.0, overrun=overrun, gas_shut=False)
    return {"tank": "t", "tank_name": "FV 1", "solids": "trub", "result": {}, **made, **seen}


# By hand, of a port open for 70 s: past the change are 70 s less the instant of the change.
@pytest.mark.parametrize(("made", "change", "past"), [
    (purge(10.0), 60.0, 10.0), (purge(10.0, False, 52.5), 60.0, 10.0), (purge(10.0, True, 52.5), 52.5, 17.5),
    (purge(10.0, True, None), 60.0, 10.0), (purge(None), None, 0.0), (purge(None, True, 52.5), 52.5, 17.5),
    (purge(10.0, True, 71.25), 71.25, 0.0),
])
def test_what_was_seen_counts_once_it_is_taken_and_only_then(made, change, past):
    assert (change_after(made), run_times(made)) == (change, (70.0, past))


def test_the_overrun_of_a_taken_time_is_what_ran_since_then():
    tapped, taken = (outcome_of(made, "us").result["overrun"]["value"] for made in (
        purge(10.0, False, 52.5), purge(10.0, True, 52.5)))
    # By hand: 6 gal/min are a gallon in 10 s.
    assert tapped == pytest.approx(1.0 * GALLON, rel=1e-9)
    assert taken == pytest.approx(1.75 * GALLON, rel=1e-9)


def test_a_time_that_is_given_back_leaves_the_sums_as_they_were():
    assert outcome_of(purge(10.0, False, 52.5), "us") == outcome_of(purge(10.0), "us")


def test_the_tap_stays_as_it_was():
    made = purge(10.0, True, 52.5)
    assert made["events"] == purge(10.0)["events"]


def test_reports_and_the_next_run_learn_from_the_time_that_counts():
    made = purge(10.0, True, 52.5)
    fact = fact_of({"id": "p", "created": "2026-03-01T07:00:00.000Z", "demo": False, "body": made}, None)
    assert (fact["past"], past_of([made])[0]["seconds"]) == (17.5, 52.5)


def test_a_run_without_a_tap_tells_a_beer_time_once_a_seen_one_is_taken():
    entry = {"id": "p", "created": "2026-03-01T07:00:00.000Z", "demo": False}
    assert fact_of(entry | {"body": purge(None)}, None)["past"] is None
    assert fact_of(entry | {"body": purge(None, True, 52.5)}, None)["past"] == 17.5


def test_a_clock_that_was_set_back_tells_no_times_whatever_was_seen():
    made = purge(None, True, 52.5)
    made["events"].reverse()
    for event, at in zip(made["events"], ("2026-03-02T07:01:00.000Z", "2026-03-02T07:05:00.000Z"), strict=True):
        event["at"] = at
    assert was_set_back(*run_times(made))
