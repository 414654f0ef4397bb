"""Natural limits against the e-Handbook and SciPy, and how often nothing at all breaks a rule."""

import math
import random

import pytest
from scipy import stats
from tankfoot.report.limits import FORMS, LEAST, RUN, natural_limits, signals

# Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, flow rates of ten batches.
FLOWS = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
LATER = 20  # values after those that the limits are of
KNOWN = 1000  # values from which on limits are as good as known
HANDS = [5.0, 4.0, 6.0, 5.5, 4.5, 5.0, 6.0, 4.0, 5.5, 4.5]


def test_limits_of_the_handbooks_flow_rates():
    limits = natural_limits(FLOWS, "mean")
    assert limits["centre"] == pytest.approx(50.81)
    assert round(limits["moving_range"], 4) == 1.8778
    assert (round(limits["low"], 4), round(limits["high"], 4)) == (45.8159, 55.8041)
    assert signals(FLOWS, limits) == [None] * 10


# SciPy: two normal values differ by a half-normal times the root of two; three deviations are what a limit stands for.
@pytest.mark.parametrize("form, usual", [("mean", stats.halfnorm.mean()), ("median", stats.halfnorm.median())])
def test_a_limit_is_three_standard_deviations_off(form, usual):
    assert FORMS[form] * usual * math.sqrt(2.0) == pytest.approx(3.0, rel=1e-3)


def test_the_median_form_by_hand():
    # By hand: values 4 4 4.5 4.5 5 5 5.5 5.5 6 6, moving ranges 0.5 0.5 1 1 1 1 1.5 2 2.
    limits = natural_limits(HANDS)
    assert (limits["centre"], limits["moving_range"]) == (5.0, 1.0)
    assert limits["high"] == pytest.approx(5.0 + 3.1447, abs=1e-4)


def test_one_purge_that_nobody_watched_does_not_hide_itself():
    values = [*HANDS[:5], 40.0, *HANDS[6:]]
    assert signals(values, natural_limits(values)) == [None] * 5 + ["above_limit"] + [None] * 4
    assert natural_limits(values)["centre"] == 5.25


def test_less_than_ten_tell_nothing_and_neither_do_equal_ones():
    assert natural_limits(FLOWS[:-1]) is None
    assert natural_limits([2.0] * 30) is None
    assert signals([1.0, 900.0], None) == [None, None]
    assert LEAST == 10


def test_a_cellar_that_mostly_loses_nothing_still_has_limits():
    # By hand: two moving ranges of 1 among ten; 2.6596 times their mean of 0.2.
    limits = natural_limits([0.0] * 5 + [1.0] + [0.0] * 5)
    assert limits["centre"] == 0.0
    assert limits["high"] == pytest.approx(2.6596 * 0.2, rel=1e-4)


# Source: Western Electric, Statistical Quality Control Handbook, 1956, from memory: eight in a row on one side.
def test_a_run_is_told_from_its_eighth_value_on():
    limits = {"centre": 2.0, "moving_range": 1.0, "low": 0.0, "high": 9.0}
    assert signals([3.0] * 9, limits) == [None] * 7 + ["run_above"] * 2
    assert signals([3.0] * 4 + [2.0] + [3.0] * 7, limits) == [None] * 12
    assert signals([2.0] * 12, limits) == [None] * 12
    assert signals([3.0] * 7 + [1.0] * 8, limits) == [None] * 14 + ["run_below"]
    assert signals([-0.1, 9.1], limits) == ["below_limit", "above_limit"]


def broken(rng, first, form, charts):
    """(share beyond a limit, share that ends a run) of steady normal values after the ``first``, on many charts."""
    beyond, runs = 0, 0
    for _ in range(charts):
        values = [rng.gauss(5.0, 1.0) for _ in range(first + LATER + RUN - 1)]
        told = signals(values[first:], natural_limits(values[:first], form))[RUN - 1 :]
        beyond += sum(rule is not None and "limit" in rule for rule in told)
        runs += sum(rule is not None and "run" in rule for rule in told)
    return beyond / (charts * LATER), runs / (charts * LATER)


# What limits.py says, against which each run is held: of ten values and of sixty.
@pytest.mark.parametrize("first, form, beyond, runs", [
    (10, "median", 0.037, 0.033), (10, "mean", 0.023, 0.025), (60, "median", 0.007, 0.011), (60, "mean", 0.005, 0.010),
])
def test_how_often_steady_values_break_a_rule(first, form, beyond, runs, pytestconfig, tell):
    found = broken(random.Random(15), first, form, pytestconfig.getoption("charts"))
    tell(f"limits of {first} values, {form}: beyond {found[0]:.4f}, in a run {found[1]:.4f}")
    # Values of one chart share their limits, so they count as one: the root of p (1 - p) / charts, four times.
    for share, told in zip(found, (beyond, runs), strict=True):
        assert abs(share - told) < 0.001 + 4 * math.sqrt(told / pytestconfig.getoption("charts")) / 2


# SciPy: a normal value is beyond three deviations at 0.27 %; a side falls eight times in a row at two in 2^8.
def test_with_limits_as_good_as_known_a_rule_breaks_as_rarely_as_it_may(pytestconfig):
    charts = pytestconfig.getoption("charts") // 4
    beyond, runs = broken(random.Random(16), KNOWN, "mean", charts)
    assert beyond == pytest.approx(2 * stats.norm.sf(3.0), abs=0.0008 + 0.02 / math.sqrt(charts))
    assert runs == pytest.approx(2 / 2**8, abs=0.001 + 0.05 / math.sqrt(charts))
