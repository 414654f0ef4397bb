"""The command begins at once, and what it keeps between starts changes no answer."""

import os
import subprocess
import sys

import pytest
from start_cost import BUDGET, MAIN, STARTS, SUM, medians
from tankfoot.quantities.units import by_pint, units

SLOW = ("pint", "flask", "marshmallow")
ROOM = 2  # times the budget, for a machine that does other things too
ALONE = 0.03  # s that Python alone takes where nothing else runs: a busier machine gets as much more
TELLING_WHAT_IS_READ = f"""
import sys
from tankfoot.cli import main
try:
    main()
finally:
    print(*(name for name in {SLOW!r} if name in sys.modules), file=sys.stderr)
"""
ANSWER = "0.27 bbl ± 0.10 bbl"  # of the README


@pytest.fixture
def kept(tmp_path, monkeypatch):
    """The folder that commands keep things in, empty."""
    # Source: XDG Base Directory Specification 0.8, "XDG_CACHE_HOME defines the base directory ... non-essential data".
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    return tmp_path / "tankfoot"


linux = pytest.mark.skipif(sys.platform != "linux", reason="the cache folder is told otherwise on other systems")


def started(*arguments, code=MAIN):
    return subprocess.run([sys.executable, "-c", code, *arguments], capture_output=True, text=True, env=os.environ)


def test_what_is_kept_of_the_units_is_what_pint_says():
    told = {symbol: (unit.dimension, unit.factor, unit.offset) for symbol, unit in units().items()}
    assert told == by_pint()


@linux
def test_the_second_sum_asks_no_pint_and_answers_the_same(kept):
    first, second = (started(*SUM, code=TELLING_WHAT_IS_READ) for _ in range(2))
    assert ANSWER in first.stdout
    assert first.stdout == second.stdout
    assert (first.stderr, second.stderr) == ("pint marshmallow\n", "marshmallow\n")


@linux
@pytest.mark.parametrize("spoil", [
    pytest.param(lambda content: content.replace(b"0.1", b"0.2"), id="another number"),
    pytest.param(lambda content: content[:-9], id="cut off"),
    pytest.param(lambda content: b"", id="empty"),
    pytest.param(lambda content: b"\xff", id="no text"),
])
def test_what_is_kept_and_no_longer_whole_is_worked_out_again(spoil, kept):
    right = started(*SUM)
    path, = kept.iterdir()
    content = path.read_bytes()
    path.write_bytes(spoil(content))
    assert path.read_bytes() != content
    again = started(*SUM)
    assert (again.returncode, again.stdout, again.stderr) == (0, right.stdout, "")
    assert path.read_bytes() == content


@linux
def test_a_folder_that_takes_nothing_costs_time_alone(kept):
    kept.write_text("no folder", encoding="utf-8")
    told = started(*SUM)
    assert (told.returncode, told.stderr) == (0, "")
    assert ANSWER in told.stdout


@linux
def test_without_a_home_nothing_is_kept_where_one_stands(tmp_path):
    code = f"import os; os.environ.clear(); os.path.expanduser = lambda path: path\n{MAIN}"
    told = subprocess.run([sys.executable, "-c", code, *SUM], capture_output=True, text=True, cwd=tmp_path)
    assert (told.returncode, told.stderr) == (0, "")
    assert ANSWER in told.stdout
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("option", ["--version", "--help"])
def test_what_tells_only_of_the_command_reads_nothing_slow(option):
    assert started(option, code=TELLING_WHAT_IS_READ).stderr == "\n"


@pytest.mark.alone
def test_the_command_begins_at_once():
    taken = medians(5)
    longest = ROOM * BUDGET * max(1.0, taken["Python alone"] / ALONE)
    assert {name: seconds for name, seconds in taken.items() if seconds > longest} == {}
    assert set(taken) == set(STARTS)
