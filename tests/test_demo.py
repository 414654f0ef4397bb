"""The invented brewery: says that it is invented, is made by its script, and tells its story."""

import itertools
import runpy
import statistics
from datetime import datetime, timedelta
from importlib.resources import files
from pathlib import Path

import pytest
from tankfoot.batches.due import due_items
from tankfoot.batches.life import beer_in
from tankfoot.batches.rules import default_rules
from tankfoot.batches.stay import stay_of
from tankfoot.office.transfer import export_file, read_file
from tankfoot.purge.machine import LAST, state_after
from tankfoot.purge.times import run_times
from tankfoot.record.bodies import BATCH_EVENTS

DEMO = Path(__file__).parents[1] / "demo"
RECORD = Path(str(files("tankfoot"))) / "site" / "assets" / "demo" / "record.json"
PSI_A_PURGE = 2.0
WEEK_OF_THE_NEW_HAND = 8


@pytest.fixture(scope="module")
def entries():
    contents = read_file(RECORD.read_text(encoding="utf-8"))
    assert contents.problems == []
    return contents.entries


@pytest.fixture(scope="module")
def purges(entries):
    kept = [entry for entry in entries if entry["kind"] == "purge" and not entry["deleted"]]
    return [entry for entry in kept if not entry["body"].get("open")]


def test_the_script_writes_the_file_to_the_byte(monkeypatch):
    monkeypatch.syspath_prepend(DEMO)  # as where it is run by its name
    made = runpy.run_path(str(DEMO / "make.py"))["record"]()
    assert export_file(made[0], "demo", made[1]) == RECORD.read_text(encoding="utf-8")


def test_every_entry_says_that_it_is_invented(entries):
    assert all(entry["demo"] for entry in entries)
    names = [entry["body"]["name"] for entry in entries if entry["kind"] == "tank"]
    assert len(names) == 6
    assert all(name.startswith("Sample ") for name in names)
    assert "made up" in (DEMO / "README.md").read_text(encoding="utf-8")


def test_the_tanks_have_different_shapes(entries):
    tanks = [entry["body"] for entry in entries if entry["kind"] == "tank"]
    shapes = {(tank["diameter"], tank["cone_angle"], tank["head_depth"]) for tank in tanks}
    assert len(shapes) == len(tanks)


def test_about_three_months_of_purges_went_by_the_table(purges):
    assert 65 <= len(purges) <= 85
    for purge in purges:
        events = purge["body"]["events"]
        assert state_after(events) == LAST
        assert [event["at"] for event in events] == sorted(event["at"] for event in events)


def test_a_purge_drops_the_gauge_by_about_two_psi(purges):
    drops = [psi(purge, "pressure_before") - psi(purge, "pressure_after") for purge in purges]
    # common practice, no source: about two psi a purge
    assert statistics.mean(drops) == pytest.approx(PSI_A_PURGE, abs=0.25)


def psi(purge, reading):
    return float(purge["body"]["readings"][reading].split()[0])


def test_the_crew_learns_to_stop_at_the_colour_change(purges):
    overruns = [run_times(purge["body"])[1] for purge in purges]
    quarter = len(overruns) // 4
    # the story of the demo: half a minute at first, a few seconds at the end
    assert statistics.median(overruns[:quarter]) > 24.0
    assert statistics.median(overruns[-quarter:]) < 8.0


def test_the_new_hand_shows(purges):
    (slow,) = [purge for purge in purges if purge["body"]["notes"].startswith("New hand")]
    assert run_times(slow["body"])[1] > 20.0


def test_a_correction_and_a_deleted_entry_are_in_it(entries):
    assert sum(bool(entry["history"]) for entry in entries) == 1
    assert sum(entry["deleted"] for entry in entries) == 1


def test_a_round_is_half_done(entries):
    (found,) = [entry["body"] for entry in entries if entry["kind"] == "round"]
    tanks = {entry["id"]: entry["body"]["name"] for entry in entries if entry["kind"] == "tank"}
    assert found["ended"] is None and found["open"] == 1
    assert all(tanks[row["tank"]] == row["tank_name"] for row in found["tanks"])
    assert sum(row["left_out"] is not None for row in found["tanks"]) == 1
    (half,) = [entry["body"] for entry in entries if entry["kind"] == "purge" and entry["body"].get("open")]
    assert half["tank"] in [row["tank"] for row in found["tanks"]]


def test_one_purge_is_half_done_with_its_stack_left_on_and_its_result_told(entries):
    (half,) = [entry["body"] for entry in entries if entry["kind"] == "purge" and entry["body"].get("open")]
    assert state_after(half["events"]) == half["state"] == "rest"
    assert half["result"]["overrun"]["value"] > 0.0


def test_the_beer_in_the_solids_is_assumed_but_for_a_few_settled_samples(purges):
    assert 0 < sum("beer_share" in purge["body"]["readings"] for purge in purges) < 6


def of_kind(entries, kind):
    return [entry for entry in entries if entry["kind"] == kind]


def stays_at(entries, now):
    """What each tank holds by then, by the tanks' names."""
    tanks = of_kind(entries, "tank")
    purges = [each for each in of_kind(entries, "purge") if not each["deleted"]]

    def of(tank, kind):
        return [each for each in of_kind(entries, kind) if each["body"]["tank"] == tank["id"]]

    return {
        tank["body"]["name"]: stay_of(tank, {
            "events": of(tank, "batch-event"), "elsewhere": [], "readings": of(tank, "tank-reading"),
            "purges": [each for each in purges if each["body"]["tank"] == tank["id"]], "postponed": [], "held": False,
        })
        for tank in tanks
    }


def test_every_tank_holds_a_batch_of_a_plausible_month(entries):
    stays = stays_at(entries, entries[-1]["edited"])
    assert all(stay["batch"] is not None for stay in stays.values())
    assert all(stay["entries"][0]["body"]["event"] == "filled" for stay in stays.values())
    beers = [each["body"]["beer"] for each in of_kind(entries, "batch")]
    assert all(beer.startswith("Invented ") for beer in beers) and len(set(beers)) == len(beers) == 8
    said = {each["body"]["event"] for each in of_kind(entries, "batch-event")}
    moves = {"moved-in", "moved-out"}  # every tank is taken, so nothing moves
    assert said == set(BATCH_EVENTS) - moves


# The record is loaded at most a day after its last instant.
@pytest.mark.parametrize("hours", [0, 6, 12, 16, 17, 18, 24])
def test_by_the_rules_two_tanks_are_due_and_no_other_until_the_day_after(entries, hours):
    latest = datetime.fromisoformat(max(entry["edited"] for entry in entries))
    now = (latest + timedelta(hours=hours)).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    waiting = {
        name for name, stay in stays_at(entries, now).items() for item in due_items(stay, default_rules(), now, "UTC")
        if item["state"] in ("due", "overdue")
    }
    assert waiting == {"Sample 2", "Sample 3"}


def test_the_beer_of_each_tank_is_what_follows_from_its_batch_within_the_give_or_take(entries):
    purges = [each for each in of_kind(entries, "purge") if not each["deleted"] and each["body"]["state"] == LAST]
    for tank in of_kind(entries, "tank"):
        stay = stays_at(entries, None)[tank["body"]["name"]]
        here = [each for each in purges if each["body"]["tank"] == tank["id"] and each["created"] >= stay["since"]]
        beer = beer_in(stay["entries"], [each["body"]["result"].get("volume_lost") for each in here], "us")
        assert abs(beer["value"] - tank["body"]["beer_volume"]) <= beer["uncertainty"], tank["body"]["name"]


def test_the_gauges_of_cold_tanks_are_read_every_second_day_and_one_leaks(entries):
    readings = {}
    for each in of_kind(entries, "tank-reading"):
        readings.setdefault(each["body"]["tank_name"], []).append(each["body"])
    leaks = readings["Sample 5"]
    days = [datetime.fromisoformat(each["at"]) for each in leaks]
    assert all((after - before).days == 2 for before, after in itertools.pairwise(days)) and len(days) == 7
    shown = [float(each["pressure"].split()[0]) for each in leaks]
    # the story of the demo: it holds, then it drops
    assert max(shown[:3]) - min(shown[:3]) <= 0.1 and shown[2] - min(shown) > 1.0
    steady = [float(each["pressure"].split()[0]) for each in readings["Sample 6"]]
    assert max(steady) - min(steady) <= 0.2
