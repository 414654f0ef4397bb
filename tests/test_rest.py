"""Whether a day more of rest saves beer: against SciPy, and by how often it would tell what is not so."""

import random

import pytest
from scipy import stats
from tankfoot.usual.rest import rest_effect, theil_sen

LEAN = random.Random(15)


def drawn(count, steepness, ties):
    xs = [LEAN.choice((1.0, 2.0, 3.0)) if ties else LEAN.uniform(0.5, 9.0) for _ in range(count)]
    return xs, [0.03 + steepness * x + LEAN.gauss(0.0, 0.004) for x in xs]


@pytest.mark.parametrize("ties", [False, True])
@pytest.mark.parametrize("steepness", [0.0, -0.002])
@pytest.mark.parametrize("count", [3, 4, 7, 10, 15, 30, 60])
def test_slope_and_interval_are_scipys(count, steepness, ties):
    xs, ys = drawn(count, steepness, ties)
    # Source: scipy.stats.theilslopes
    theirs = stats.theilslopes(ys, xs, alpha=0.95)
    ours = theil_sen(xs, ys)
    assert [ours["slope"], ours["low"], ours["high"]] == pytest.approx(
        [theirs.slope, theirs.low_slope, theirs.high_slope], rel=1e-12)


def test_ties_in_what_was_lost_narrow_it_as_scipy_does():
    xs, ys = [1.0, 1.0, 2.0, 2.0, 3.0, 4.0, 5.0, 6.0, 6.0, 8.0], [9.0, 9.0, 7.0, 7.0, 7.0, 5.0, 5.0, 4.0, 4.0, 4.0]
    theirs = stats.theilslopes(ys, xs, alpha=0.95)  # Source: scipy.stats.theilslopes
    ours = theil_sen(xs, ys)
    assert [ours["slope"], ours["low"], ours["high"]] == [theirs.slope, theirs.low_slope, theirs.high_slope]


@pytest.mark.parametrize(("xs", "ys"), [
    ([], []), ([2.0], [1.0]), ([2.0, 2.0], [1.0, 3.0]), ([1.0, 2.0, 3.0], [4.0] * 3),
])
def test_where_nothing_differs_there_is_no_slope(xs, ys):
    assert theil_sen(xs, ys) is None


def purges(count, a_day, scatter=0.0005):
    rng = random.Random(count)
    rests = [float(1 + n % 6) for n in range(count)]
    return [{"rest": rest, "loss": 0.03 + a_day * rest + rng.gauss(0.0, scatter)} for rest in rests]


def test_a_day_more_that_saved_is_told():
    told = rest_effect(purges(14, -0.002))
    assert told["count"] == 14
    assert told["low"] < told["a_day"] < told["high"] < 0.0
    assert told["a_day"] == pytest.approx(-0.002, rel=0.2)


def test_a_day_more_that_cost_is_told_too():
    assert rest_effect(purges(14, 0.002))["low"] > 0.0


def test_few_purges_or_a_rest_that_does_nothing_cannot_tell():
    assert rest_effect(purges(9, -0.002)) is None
    assert rest_effect(purges(14, 0.0)) is None
    assert rest_effect(purges(14, -0.0002, scatter=0.01)) is None
    assert rest_effect([]) is None


def test_only_the_latest_sixty_count():
    told = rest_effect(purges(60, 0.002) + purges(60, -0.002))
    assert told["count"] == 60
    assert told["high"] < 0.0


def test_a_rest_that_does_nothing_is_seldom_said_to_save():
    # Source: an interval of 95 % leaves the truth out five times in a hundred; 2,000 draws, four standard deviations.
    for count in (10, 20):
        rng, told = random.Random(count), 0
        for _ in range(2000):
            rests = rng.choices((1.0, 2.0, 3.0, 4.0, 7.0), k=count)
            told += rest_effect([{"rest": rest, "loss": rng.expovariate(50.0)} for rest in rests]) is not None
        assert told / 2000 < 0.05 + 4.0 * (0.05 * 0.95 / 2000) ** 0.5
