"""What is due on every day of an invented month is what a hand wrote down beforehand."""

import itertools
import json

import pytest
from due_month import ZONE, expected, export, instant, moments, month
from tankfoot.cli import main


@pytest.fixture
def due(capsys):
    """The items of `tankfoot due --json` on the standard output."""

    def run(*arguments):
        code = main(["due", *map(str, arguments), "--json"])
        written = capsys.readouterr()
        assert (code, written.err) == (0, "")
        return json.loads(written.out)["due"]

    return run


def open_states(items):
    """{(tank, rule): state}: of the item that is not done yet, "done" where all are."""
    shown = {}
    for item in items:
        key = item["tank"], item["rule"]
        if item["state"] != "done":
            assert shown.get(key, "done") == "done", f"two things to do of {key}"
        if item["state"] != "done" or key not in shown:
            shown[key] = item["state"]
    return shown


# Source: the calendar in due_month.py, written by hand before the code was run.
def test_every_day_of_the_month_at_three_times_of_day(due, tmp_path):
    file = export(tmp_path, month())
    wrong = {}
    for wall in moments():
        found = open_states(due(file, "--at", instant(wall), "--zone", ZONE))
        if found != expected(wall):
            wrong[wall] = {key: (found.get(key), expected(wall).get(key)) for key in {*found, *expected(wall)}
                           if found.get(key) != expected(wall).get(key)}
    assert wrong == {}
    assert len(moments()) == 93
