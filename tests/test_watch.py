"""Watching a glass: its test against published figures, the change against another program, and what is kept."""

import json
import math
import random

import numpy as np
import pytest
import ruptures
from glass import WHITE, series
from rehearsed_glass import REHEARSED, rehearsed_series
from tankfoot.watch.colour import lab, light, ratio
from tankfoot.watch.cusum import cusum
from tankfoot.watch.seen import answer, begin, step, watched

SLACK = 0.5
# Two-sided average run lengths for k = 0.5 by limit and shift in standard deviations. Source: D. C. Montgomery,
# Introduction to Statistical Quality Control, the table of the tabular CUSUM's performance, after J. M. Lucas and R. B.
# Crosier, Technometrics 24 (1982) (from memory).
RUN_LENGTHS = {
    (4.0, 0.0): 168.0, (4.0, 0.5): 26.6, (4.0, 1.0): 8.38, (4.0, 1.5): 4.75, (4.0, 2.0): 3.34,
    (5.0, 0.0): 465.0, (5.0, 0.5): 38.0, (5.0, 1.0): 10.4, (5.0, 1.5): 5.75, (5.0, 2.0): 4.01,
}


def below(x):
    """The share of a standard normal distribution below x."""
    return 0.5 * (1.0 + np.vectorize(math.erf)(np.asarray(x) / np.sqrt(2.0)))


def run_length(limit, shift, parts=400):
    """The mean number of readings until the sum is over the limit, as a Markov chain of its values.

    D. Brook and D. A. Evans, An approach to the probability distribution of cusum run length, Biometrika 59 (1972).
    """
    wide = 2.0 * limit / (2 * parts - 1)
    values = np.arange(parts) * wide
    steps = values[None, :] - values[:, None] + SLACK - shift
    moves = below(steps + 0.5 * wide) - below(steps - 0.5 * wide)
    moves[:, 0] = below(steps[:, 0] + 0.5 * wide)
    return np.linalg.solve(np.eye(parts) - moves, np.ones(parts))[0]


def either_side(limit, shift):
    return 1.0 / (1.0 / run_length(limit, shift) + 1.0 / run_length(limit, -shift))


@pytest.mark.parametrize(("limit", "shift"), RUN_LENGTHS)
def test_the_chain_has_the_published_run_lengths(limit, shift):
    assert either_side(limit, shift) == pytest.approx(RUN_LENGTHS[limit, shift], rel=0.01)


@pytest.mark.parametrize(("limit", "shift"), [(4.0, 0.0), (4.0, 0.5), (4.0, 1.0), (5.0, 1.0), (5.0, 2.0)])
def test_the_sum_runs_as_long_as_the_chain(limit, shift):
    rng, lengths = random.Random(f"run length {limit} {shift}"), []
    for _ in range(1500):
        total, count = 0.0, 0
        while total < limit:
            total, count = cusum(total, rng.gauss(shift, 1.0), SLACK), count + 1
        lengths.append(count)
    mean, doubt = np.mean(lengths), np.std(lengths) / np.sqrt(len(lengths))
    assert abs(mean - run_length(limit, shift)) < 3.5 * doubt


def back(samples):
    """The light of the glass against the reference, a row a sample."""
    return np.array([ratio(light(one["glass"]), light(one["reference"])) for one in samples])


# Source: the ruptures package, the one change point of least squares (dynamic programming), on the same light.
@pytest.mark.parametrize("kind", ["trub to gold", "yeast to gold", "hops to hazy", "fruit to gold", "yeast to dark"])
def test_the_change_is_where_another_program_puts_it(kind):
    apart = []
    for seed in range(8):
        made, samples = series(kind, f"ruptures {seed}")
        told = answer(watched(samples))["beer_at"]
        full = [one for one in samples if made.fill + 1.0 < one["t"] < made.change + 6.0]
        place = ruptures.Dynp(model="l2", min_size=3, jump=1).fit(back(full)).predict(n_bkps=1)[0]
        apart.append(told - 0.5 * (full[place - 1]["t"] + full[place]["t"]))
    assert np.abs(apart).max() < 0.4 and abs(np.mean(apart)) < 0.15


def test_a_state_that_was_kept_goes_on_as_it_was():
    _, samples = series("trub, yeast, gold", "kept")
    through, kept = begin(), begin()
    for sample in samples:
        through = step(through, sample)
        kept = step(json.loads(json.dumps(kept)), sample)
        assert kept == through
        assert len(json.dumps(kept)) < 2500
    assert kept["stage"] == "beer"


def test_a_step_changes_nothing_that_it_was_given():
    _, samples = series("chunks", "pure")
    state = begin()
    for sample in samples:
        before, given = json.dumps(state), json.dumps(sample)
        after = step(state, sample)
        assert (json.dumps(state), json.dumps(sample)) == (before, given)
        state = after


def test_a_sample_that_is_no_later_changes_nothing():
    _, samples = series("trub to gold", "twice")
    state = watched(samples[:50])
    assert step(state, samples[49]) == step(state, samples[10]) == state


def test_each_thing_that_hides_the_glass_is_told_by_its_name():
    names = {"lamp goes out": "dark", "glare": "glare", "fog": "fog", "reference lost": "reference", "knocked": "moved"}
    for kind, why in names.items():
        told = [answer(watched(series(kind, f"hidden {seed}")[1]))["unseen"] for seed in range(10)]
        assert sum(why in [stretch[2] for stretch in unseen] for unseen in told) >= 8, (kind, told)


def test_a_stretch_without_pictures_is_told():
    made, samples = series("trub to gold", "gap")
    left = [one for one in samples if not 6.0 < one["t"] < 9.0]
    (start, end, why), *_ = answer(watched(left))["unseen"]
    assert why == "gap" and start < 6.0 + 0.3 and end > 9.0 - 0.3


def test_what_the_last_run_ended_with_tells_a_run_that_is_beer_at_once():
    made, samples = series("beer at once", "known")
    beer = lab([one / white for one, white in zip(made.beer, WHITE, strict=True)])
    assert watched(samples)["beer"] is None
    assert watched(samples, beer)["beer"]["said"] < made.fill + 2.5


def test_what_the_last_run_ended_with_silences_nothing():
    for seed in range(5):
        made, samples = series("trub to gold", f"other beer {seed}")
        assert watched(samples, [20.0, 10.0, 10.0])["beer"] == watched(samples)["beer"] is not None


def test_a_layer_of_yeast_is_no_beer():
    made, samples = series("trub, yeast, gold", "layers")
    until = [one for one in samples if one["t"] < made.change - 3.0 * made.width]
    assert until[-1]["t"] > made.starts[0] + 3.0
    state = watched(until)
    assert state["beer"] is None and state["layer"]["from"] > made.starts[0] - 1.0


@pytest.mark.parametrize("kind", REHEARSED)
def test_the_glass_of_a_simulated_tank_is_seen_to_turn(kind):
    for seed in range(4):
        made, samples = rehearsed_series(kind, seed)
        # The tank's own glass: half of what is in it is beer.
        assert answer(watched(samples))["beer_at"] == pytest.approx(made.change, abs=0.8)
