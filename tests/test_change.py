"""When the colour will change: against SciPy, against the same model solved with matrices, and in simulated cellars."""

import math
import random
from collections import Counter

import numpy as np
import pytest
from scipy import stats
from tankfoot.usual.change import change_interval

OWN = (61.0, 84.5, 70.2, 93.9, 77.0)
ELSEWHERE = {
    "a": (120.0, 133.0, 151.0, 99.0), "b": (45.0, 58.0, 50.5), "c": (88.0,), "d": (70.0, 101.0, 80.0, 83.0, 90.0),
}
RATIOS = (0.0, 0.3, 0.6, 1.0, 1.5, 2.0, 3.0)  # of the scatter between tanks to that within


def purges(seconds, rests=None):
    return [{"seconds": s, "rest": r} for s, r in zip(seconds, rests or [None] * len(seconds), strict=True)]


def of_tanks(seconds, rests=None):
    return [{"tank": tank, **purge} for tank in seconds
            for purge in purges(seconds[tank], rests and rests[tank])]


def components(tanks):
    """Mean squares within and between, and tau2 by the method of moments."""
    counts = np.array([len(y) for y in tanks])
    within = sum(((np.array(y) - np.mean(y)) ** 2).sum() for y in tanks) / (counts.sum() - len(tanks))
    # Source: scipy.stats.f_oneway, whose F is the mean square between tanks over that within
    between = stats.f_oneway(*tanks).statistic * within
    # Source: Searle, Casella and McCulloch, Variance Components (1992), 3.6, from memory: n0 of unbalanced data
    n0 = (counts.sum() - (counts**2).sum() / counts.sum()) / (len(tanks) - 1)
    return within, between, n0


def by_matrices(tanks, within, between, n0):
    """The best linear unbiased prediction of the next of the first tank, and the variance of its error.

    Source: Henderson (1975), Biometrics 31:423, with the covariance of all the values written out, from memory.
    """
    tau2 = max(0.0, (between - within) / n0)
    y = np.concatenate(tanks)
    place = np.repeat(np.arange(len(tanks)), [len(each) for each in tanks])
    covariance = within * np.eye(len(y)) + tau2 * (place[:, None] == place[None, :])
    with_next = tau2 * (place == 0)
    inverse, ones = np.linalg.inv(covariance), np.ones(len(y))
    mean = ones @ inverse @ y / (ones @ inverse @ ones)
    foretold = mean + with_next @ inverse @ (y - mean)
    missed = 1.0 - with_next @ inverse @ ones
    error = within + tau2 - with_next @ inverse @ with_next + missed**2 / (ones @ inverse @ ones)
    return foretold, error


def expected(tanks):
    within, between, n0 = components(tanks)
    middle, variance = by_matrices(tanks, within, between, n0)
    freedoms = (sum(map(len, tanks)) - len(tanks), len(tanks) - 1)
    # Source: Satterthwaite (1946), Biometrics Bulletin 2:110, with the derivatives by the two mean squares
    up, step = math.exp(1e-4), 2e-4
    slopes = [
        (by_matrices(tanks, within * one, between * other, n0)[1]
         - by_matrices(tanks, within / one, between / other, n0)[1]) / step for one, other in ((up, 1.0), (1.0, up))
    ]
    freedom = variance**2 / sum(slope**2 / each for slope, each in zip(slopes, freedoms, strict=True))
    reach = stats.t.ppf(0.9, freedom) * math.sqrt(variance)
    return [math.exp(middle + off) for off in (-reach, 0.0, reach)]


def told(found):
    return [found[name] for name in ("low", "middle", "high")]


@pytest.mark.parametrize("seconds", [OWN, OWN[:3], (12.0, 240.0, 31.0, 100.0), (5.0, 6.0, 7.0) * 6])
def test_one_tank_alone_has_the_classic_prediction_interval(seconds):
    # Source: Hahn and Meeker, Statistical Intervals (1991), 4.7, from memory: mean ± t s sqrt(1 + 1 / n)
    y = np.log(seconds)
    reach = stats.t.ppf(0.9, len(y) - 1) * y.std(ddof=1) * math.sqrt(1.0 + 1.0 / len(y))
    found = change_interval(purges(seconds), [])
    assert told(found) == pytest.approx([math.exp(y.mean() + off) for off in (-reach, 0.0, reach)], rel=1e-12)
    assert (found["count"], found["borrowed"]) == (len(seconds), 0)


@pytest.mark.parametrize("own", [OWN, OWN[:3], OWN[:2], (20.0, 30.0), (300.0, 280.0, 290.0, 310.0)])
def test_what_other_tanks_lend_is_the_best_linear_prediction(own):
    found = change_interval(purges(own), of_tanks(ELSEWHERE))
    assert told(found) == pytest.approx(expected([np.log(each) for each in (own, *ELSEWHERE.values())]), rel=1e-7)
    assert (found["count"], found["borrowed"]) == (len(own), 13)


def test_tanks_that_are_alike_lend_all_they_have():
    # The tanks' means differ by less than the scatter within them: no variance between tanks is left.
    alike = {"a": (60.0, 75.0, 90.0, 80.0), "b": (70.0, 88.0, 64.0, 79.0)}
    tanks = [np.log(each) for each in (OWN, *alike.values())]
    within, between, _ = components(tanks)
    assert between < within
    found = change_interval(purges(OWN), of_tanks(alike))
    y = np.concatenate(tanks)
    reach = stats.t.ppf(0.9, len(y) - 3) * math.sqrt(within * (1.0 + 1.0 / len(y)))
    assert told(found) == pytest.approx([math.exp(y.mean() + off) for off in (-reach, 0.0, reach)], rel=1e-12)


def test_a_tank_with_a_long_past_keeps_to_it_where_tanks_differ():
    far = {name: tuple(5.0 * s for s in (90.0, 95.0, 92.0, 91.0)) for name in "ab"}
    long = OWN * 4
    alone, beside = change_interval(purges(long), []), change_interval(purges(long), of_tanks(far))
    assert beside["middle"] == pytest.approx(alone["middle"], rel=0.01)


def test_the_rest_moves_the_interval_by_the_slope_within_tanks():
    rests = {"own": (1.0, 3.0, 2.0, 5.0, 2.0), "a": (1.0, 2.0, 6.0, 1.0), "b": (2.0, 3.0, 1.0), "c": (2.0,),
             "d": (1.0, 4.0, 2.0, 2.0, 3.0)}
    seconds = {"own": OWN, **ELSEWHERE}
    names = [name for name in seconds for _ in seconds[name]]
    x, y = (np.log([value for name in seconds for value in of[name]]) for of in (rests, seconds))
    dummies = np.array([[name == tank for tank in seconds] for name in names], dtype=float)
    # Source: numpy.linalg.lstsq on a column of each tank and one of ln(days)
    (*_, slope), squares, *_ = np.linalg.lstsq(np.column_stack([dummies, x]), y)
    within = squares[0] / (len(y) - len(seconds) - 1)
    at_four = y - slope * (x - math.log(4.0))
    tanks = [at_four[np.array(names) == name] for name in seconds]
    own, elsewhere = purges(seconds["own"], rests["own"]), of_tanks(ELSEWHERE, rests)
    found = change_interval(own, elsewhere, 4.0)
    _, between, n0 = components(tanks)
    middle, variance = by_matrices(tanks, within, between, n0)
    assert found["middle"] == pytest.approx(math.exp(middle), rel=1e-9)
    # farther from the rests that were seen, the slope's own doubt adds to the interval
    width = [math.log(each["high"] / each["low"]) for each in (found, change_interval(own, elsewhere, 60.0))]
    assert width[0] > 2.0 * stats.norm.ppf(0.9) * math.sqrt(variance)
    assert width[1] > 1.1 * width[0]


def test_rests_that_hardly_differ_or_that_nobody_knows_move_nothing():
    plain = change_interval(purges(OWN), of_tanks(ELSEWHERE))
    alike = {tank: tuple(2.0 + 0.1 * (n % 2) for n in range(len(s))) for tank, s in ELSEWHERE.items()}
    assert change_interval(purges(OWN, (2.0,) * 5), of_tanks(ELSEWHERE, alike), 9.0) == plain
    far = {tank: tuple(1.0 + n for n in range(len(s))) for tank, s in ELSEWHERE.items()}
    assert change_interval(purges(OWN, (1.0, 2.0, 3.0, 4.0, 5.0)), of_tanks(ELSEWHERE, far), None) == plain
    assert change_interval(purges(OWN, (1.0, 2.0, 3.0, 4.0, 5.0)), [], 3.0) == change_interval(purges(OWN), [])


@pytest.mark.parametrize(("own", "elsewhere", "is_told"), [
    (0, {"a": 20, "b": 20}, False), (1, {"a": 20, "b": 20}, False), (2, {}, False), (3, {}, True),
    (2, {"a": 6}, False), (2, {"a": 3, "b": 2}, False), (2, {"a": 3, "b": 3}, True),
])
def test_it_is_silent_with_too_little_past(own, elsewhere, is_told):
    lent = of_tanks({tank: tuple(60.0 + n for n in range(count)) for tank, count in elsewhere.items()})
    assert (change_interval(purges([50.0 + 7.0 * n for n in range(own)]), lent) is not None) == is_told


def test_a_slip_of_the_hand_is_no_past():
    assert change_interval(purges((0.2, 61.0, 84.5)), []) is None
    assert change_interval(purges((0.2, *OWN)), []) == change_interval(purges(OWN), [])


def test_changes_at_one_and_the_same_second_still_leave_a_hand_its_scatter():
    # By hand: 1 % of 60 s, t(3) = 1.638 at 90 %, sqrt(1 + 1/4) = 1.118: 60 s times exp(0.0183) is 61.1 s
    found = change_interval(purges((60.0,) * 4), [])
    assert told(found) == pytest.approx([58.9, 60.0, 61.1], abs=0.05)


def cellar(rng):
    """A cellar: purges of one tank and of others, the rest before the next one, and the ln(s) it comes to.

    One to twelve tanks of none to thirty purges, tanks apart by none to three times the scatter within them, with and
    without an effect of the rest, every fifth with heavy tails (Student's t with three degrees of freedom).
    """
    scatter, ratio = rng.uniform(0.15, 0.5), rng.choice(RATIOS)
    steepness, is_heavy = rng.choice((0.0, 0.0, 0.3, 0.6)), rng.random() < 0.2
    spread = rng.choice((0.1, 0.5, 0.8))

    def off():
        if not is_heavy:
            return rng.gauss(0.0, scatter)
        return rng.gauss(0.0, scatter) / math.sqrt(sum(rng.gauss(0.0, 1.0) ** 2 for _ in range(3)))

    def tank(count):
        level, usual = 4.0 + rng.gauss(0.0, ratio * scatter), 0.7 + rng.gauss(0.0, 0.5 * spread)
        made = []
        for _ in range(count):
            x = rng.gauss(usual, spread)
            rest = math.exp(x) if rng.random() < 0.9 else None
            made.append({"seconds": math.exp(level + steepness * x + off()), "rest": rest})
        return made

    most = rng.choice((6, 30))
    *own, next_one = tank(1 + rng.choice((rng.randint(0, 8), rng.randint(0, 30))))
    lent = [{"tank": name, **purge} for name in range(rng.randint(0, 11)) for purge in tank(rng.randint(0, most))]
    kind = {"ratio": ratio, "rest matters": (steepness, spread), "heavy tails": is_heavy}
    return own[-20:], lent[:200], next_one, kind


def stratum(count):
    return str(count) if count < 6 else "6 to 9" if count < 10 else "10 to 19" if count < 20 else "20"


def test_four_of_five_changes_come_within_the_interval(pytestconfig, tell):
    rng, size = random.Random(15), pytestconfig.getoption("cellars")
    asked, within = Counter(), Counter()
    for _ in range(size):
        own, lent, next_one, kind = cellar(rng)
        found = change_interval(own, lent, next_one["rest"])
        if found is None:
            asked["silent"] += 1
            continue
        lent_about = f"borrowed {min(found['borrowed'] // 20 * 20, 100)} and more"
        names = ["all", f"own past {stratum(found['count'])}", lent_about,
                 *(f"{name} {value}" for name, value in kind.items())]
        asked.update(names)
        within.update(names if found["low"] <= next_one["seconds"] <= found["high"] else [])
    share = {name: within[name] / asked[name] for name in sorted(asked) if name != "silent"}
    tell(f"{size} cellars, silent in {asked['silent']}: "
         + ", ".join(f"{name} {100.0 * value:.1f} % of {asked[name]}" for name, value in share.items()))
    assert 0.75 <= share["all"] <= 0.85
    for name, value in share.items():  # three standard deviations of chance besides, where a stratum is small
        chance = 3.0 * math.sqrt(0.8 * 0.2 / asked[name]) if asked[name] < 1000 else 0.0
        assert 0.72 - chance <= value <= 0.88 + chance, name
