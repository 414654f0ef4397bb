"""How often the watching misses, is too early, and how late it is, over invented runs that it was not tuned on."""

import pytest
from glass import DISTURBED, NEVER, ORDINARY, UNSEEN
from watch_figures import ORDINARY_CONTRAST, SHOW, row, runs, table


@pytest.fixture(scope="module")
def found(pytestconfig):
    count = pytestconfig.getoption("watched_runs")
    return runs(ORDINARY | DISTURBED | UNSEEN | NEVER, [f"{SHOW} {n}" for n in range(count)])


def of(found, kinds):
    return [run for run in found if run["kind"] in kinds]


# The figures asked for: no more than one in 200 too early, a median delay of 0.8 s and 2 s at most in 95 of 100 runs at
# ordinary contrast. Common practice, no source: a hand needs about as long.
def test_at_ordinary_contrast_it_is_in_time(found, tell):
    plain = [run for run in of(found, ORDINARY) if run["contrast"] >= ORDINARY_CONTRAST]
    told = row("ordinary contrast", plain)
    tell(table([told]))
    assert told["false"] <= max(1, len(plain) / 200)
    assert told["delay"] <= 0.8 and told["delay95"] <= 2.0
    assert told["silent"] <= max(1, len(plain) / 200)


def test_a_run_without_a_change_is_not_called_beer(found):
    never = row("never", of(found, NEVER))
    assert never["false"] <= max(1, never["runs"] / 200)


def test_what_is_hidden_is_said_and_not_silent(found):
    hidden = row("hidden", of(found, UNSEEN))
    assert hidden["silent"] <= max(1, hidden["runs"] / 200)
    assert hidden["false"] <= max(1, hidden["runs"] / 100)


def test_disturbed_runs_are_mostly_right(found, tell):
    rows = [row(kind, of(found, [kind])) for kind in DISTURBED]
    tell(table(rows))
    told = row("disturbed", of(found, DISTURBED))
    assert told["false"] <= 0.05 * told["runs"] and told["missed"] <= 0.03 * told["runs"]
