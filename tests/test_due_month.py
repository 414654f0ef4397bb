"""What is due on every day of an invented month is what a hand wrote down beforehand."""

import itertools
import json
from datetime import UTC, datetime

import pytest
from cellar import KEEP, entry, id_of
from due_month import ZONE, batches, expected, export, instant, moments, month, tanks, told
from tankfoot.cli import main

DUE_ON_THE_PHONE = """async ([url, now, zone]) => {
  const { take } = await import(url);
  const { currentRules, staysOf } = await take("browser/storage/stays.js");
  const { ofKind } = await take("browser/storage/record.js");
  const { dueItems } = await take("batches/due.js");
  const [stays, rules] = [await staysOf(await ofKind("tank")), await currentRules()];
  return JSON.stringify([...stays.values()].flatMap((stay) => dueItems(stay, rules, now, zone)));
}"""


def utc(text):
    """An instant as the record writes it."""
    return datetime.fromisoformat(text).astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


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


def by_then(wall):
    """What a phone held at a moment: entries made by then, and holds that were not lifted yet."""
    now = instant(wall)
    for each in month():
        if each["created"] <= now:
            lifted = each["body"].get("lifted")
            yield each | {"body": each["body"] | {"lifted": None}} if lifted and lifted > now else each


@pytest.mark.parametrize("wall", [wall for wall in moments() if wall.endswith("14:00")][::3])
def test_asked_about_the_past_a_file_tells_what_it_told_then(wall, due, tmp_path):
    now = instant(wall)
    then = export(tmp_path, list(by_then(wall)), "then.json", made=now)
    whole = export(tmp_path, month(), "whole.json")
    asked = ("--at", now, "--zone", ZONE)
    assert open_states(due(then, *asked)) == expected(wall)
    assert due(then, *asked) == due(whole, *asked)


@pytest.mark.parametrize("wall", ["03-06 14:00", "03-20 06:00", "03-27 06:00", "03-31 14:00"])
def test_a_phone_that_holds_the_same_says_the_same(wall, due, tmp_path, chromium, served):
    now, entries = instant(wall), list(by_then(wall))
    context = chromium.new_context(service_workers="block", timezone_id=ZONE)
    page = context.new_page()
    page.clock.set_fixed_time(now)
    page.goto(served.address)
    page.evaluate(KEEP, [served.script, json.dumps(entries)])
    items = json.loads(page.evaluate(DUE_ON_THE_PHONE, [served.script, now, ZONE]))
    context.close()
    told = due(export(tmp_path, entries, made=now), "--at", now, "--zone", ZONE)
    names = {each["id"]: each["body"]["name"] for each in entries if each["kind"] == "tank"}
    theirs = sorted((names[item["tank"]], item["rule"], item["state"], item["from"]) for item in items)
    assert theirs == sorted((item["tank"], item["rule"], item["state"], utc(item["from"])) for item in told)


# Source: the European Union's summer time of 2026 begins on 29 March at 01:00 UTC (Directive 2000/84/EC).
def test_a_contact_time_ends_at_three_in_the_night_when_the_clocks_change(due, tmp_path):
    file = export(tmp_path, month())
    for at, state in (("2026-03-29T01:59:59+01:00", "later"), ("2026-03-29T03:00:00+02:00", "due"),
                      ("2026-03-30T02:59:59+02:00", "due"), ("2026-03-30T03:00:00+02:00", "overdue")):
        [hops] = [item for item in due(file, "--at", at, "--zone", ZONE) if item["rule"] == "hops"]
        assert (hops["tank"], hops["batch"], hops["state"]) == ("FV 2", "Pale Ale", state)
        assert (hops["from"], hops["until"]) == ("2026-03-29T03:00:00+02:00", "2026-03-30T03:00:00+02:00")
        assert hops["why"] == "Dry hops went in on 2026-03-26 03:00; this is due 3 days later."


def test_a_tank_that_was_emptied_yesterday_asks_for_nothing(due, tmp_path):
    items = due(export(tmp_path, month()), "--at", "2026-03-25T09:00:00+01:00", "--zone", ZONE)
    assert {item["tank"] for item in items} == {"FV 2", "FV 10"}


def test_what_was_done_of_a_rule_that_returns_is_shown_for_a_week(due, tmp_path):
    file = export(tmp_path, month())

    def readings_done(wall):
        items = due(file, "--at", instant(wall), "--zone", ZONE)
        return [item["from"][:10] for item in items
                if (item["tank"], item["rule"], item["state"]) == ("FV 1", "gauge", "done")]

    # By hand: read on the 14th (as asked for that day), the 17th (the 16th), the 19th and the 21st, before ten o'clock.
    assert readings_done("03-20 14:00") == ["2026-03-14", "2026-03-16", "2026-03-19"]
    assert readings_done("03-21 14:00") == ["2026-03-16", "2026-03-19", "2026-03-21"]


def test_overdue_comes_first_then_due_and_tanks_as_they_are_walked(due, tmp_path):
    file = export(tmp_path, month())
    items = due(file, "--at", instant("03-24 06:00"), "--zone", ZONE)
    # By hand, from the calendar: FV 1 before FV 2 before FV 10, as people count.
    assert [(item["state"], item["tank"], item["rule"]) for item in items if item["state"] != "done"] == [
        ("overdue", "FV 1", "gauge"), ("overdue", "FV 10", "fruit"), ("due", "FV 1", "cold"),
        ("later", "FV 10", "every"),
    ]
    order = entry("walking-order", id_of("order"), instant("03-01 07:00"), {"tanks": [id_of("FV 10"), id_of("FV 1")]})
    file = export(tmp_path, [*month(), order])
    items = due(file, "--at", instant("03-24 06:00"), "--zone", ZONE)
    assert [item["tank"] for item in items if item["state"] == "overdue"] == ["FV 10", "FV 1"]


def test_a_clock_that_was_set_back_loses_nothing(due, tmp_path):
    """A file that was made before what it tells: the phone's clock was ahead, and was set right."""
    told_ahead = [each for each in month() if each["created"] <= instant("03-26 03:00")]
    file = export(tmp_path, told_ahead, made=instant("03-25 22:00"))
    items = due(file, "--at", instant("03-25 22:00"), "--zone", ZONE)
    assert open_states(items) == expected("03-25 22:00") | {("FV 2", "hops"): "later"}


# By hand: New York is at -04:00 in March from the 8th on. A contact time ends when it ends; days begin at its midnight.
def test_a_phone_in_another_zone_counts_its_own_days(due, tmp_path):
    file = export(tmp_path, month())
    items = due(file, "--at", instant("03-28 22:00"), "--zone", "America/New_York")
    spans = {(item["tank"], item["rule"]): (item["from"], item["until"]) for item in items if item["state"] != "done"}
    assert spans["FV 2", "cold"] == ("2026-03-30T00:00:00-04:00", "2026-04-01T00:00:00-04:00")
    # 03:00 of the 26th in Berlin is 22:00 of the 25th there, and three days later by that clock, which does not change
    assert spans["FV 2", "hops"] == ("2026-03-28T22:00:00-04:00", "2026-03-29T22:00:00-04:00")


@pytest.mark.parametrize("wall", ["03-10 14:00", "03-22 06:00", "03-26 14:00", "03-31 22:00"])
def test_two_phones_merged_in_either_order_say_the_same(wall, due, tmp_path):
    everything, common = month(), 6  # the tanks and the batches are on both
    first = export(tmp_path, everything[:common] + everything[common::2], "first.json")
    second = export(tmp_path, everything[:common] + everything[common + 1::2], "second.json")
    asked = ("--at", instant(wall), "--zone", ZONE)
    for files in itertools.permutations((first, second)):
        assert open_states(due(*files, *asked)) == expected(wall)
    assert due(first, second, *asked) == due(second, first, *asked)


# Written by hand: a leap year's end of February, Auckland, summer time (+13:00) all along.
LEAP = [
    ("02-26 09:00", "FV 1", "filled", "Helles"), ("02-27 10:00", "FV 1", "cooled", "Helles"),
    ("02-27 11:00", "FV 1", "dry-hopped", "Helles", 2.0), ("02-29 12:00", "FV 1", "purge"),
    ("02-29 12:30", "FV 1", "reading"),
]
LEAP_CALENDAR = [
    # cooled on the 27th: the gauge two days later, on the 29th, which there is; the purge three days later, 1 March
    ("02-28 22:00", {"gauge": "later", "cold": "later", "hops": "later"}),
    ("02-29 06:00", {"gauge": "due", "cold": "later", "hops": "later"}),  # hops at 11:00, two days after they went in
    ("02-29 11:00", {"gauge": "due", "cold": "later", "hops": "due"}),
    # purged on the 29th at 12:00: hops once more on 1 March; three days after the 29th is 3 March; read: 2 March
    ("02-29 14:00", {"gauge": "later", "cold": "later", "hops": "later"}),
    ("03-01 06:00", {"gauge": "later", "cold": "later", "hops": "due"}),
    ("03-02 06:00", {"gauge": "due", "cold": "later", "hops": "overdue"}),
    ("03-03 06:00", {"gauge": "overdue", "cold": "due", "hops": "overdue"}),
    ("03-05 06:00", {"gauge": "overdue", "cold": "overdue", "hops": "overdue"}),
]


@pytest.mark.parametrize(("wall", "states"), LEAP_CALENDAR, ids=[wall for wall, _ in LEAP_CALENDAR])
def test_a_leap_day_is_a_day(wall, states, due, tmp_path):
    zone = "Pacific/Auckland"
    entries = [*tanks(), *batches("Helles"), *(told(line, 2028, zone) for line in LEAP)]
    file = export(tmp_path, entries, made="2028-04-01T00:00:00.000Z")
    found = open_states(due(file, "--at", instant(wall, zone, 2028), "--zone", zone))
    assert found == {("FV 1", rule): state for rule, state in states.items()}


# Written by hand: a hint, which is never overdue, and a purge in the morning of the day on which it is due at noon.
HINT = [
    ("03-01 08:00", "FV 1", "filled", "Helles"), ("03-01 10:00", "FV 1", "finished", "Helles"),
    ("03-12 12:00", "FV 1", "dry-hopped", "Helles", 2.0), ("03-14 07:00", "FV 1", "purge"),
]
HINT_CALENDAR = [
    ("03-03 22:00", {"old-solids": "later"}),  # three days after the 1st, 10:00
    ("03-04 10:00", {"old-solids": "due"}),
    ("03-11 22:00", {"old-solids": "due"}),  # since more than seven days
    ("03-12 14:00", {"old-solids": "due", "hops": "later"}),
    ("03-14 06:00", {"old-solids": "due", "hops": "later"}),  # at 12:00
    ("03-14 14:00", {"old-solids": "done", "hops": "later"}),  # purged at 07:00 of that day: once more on the 15th
    ("03-15 06:00", {"old-solids": "done", "hops": "due"}),
]


@pytest.mark.parametrize(("wall", "states"), HINT_CALENDAR, ids=[wall for wall, _ in HINT_CALENDAR])
def test_a_hint_is_never_overdue_and_the_same_day_counts(wall, states, due, tmp_path):
    file = export(tmp_path, [*tanks(), *batches("Helles"), *map(told, HINT)])
    found = open_states(due(file, "--at", instant(wall), "--zone", ZONE))
    assert found == {("FV 1", rule): state for rule, state in states.items()}


def test_invented_entries_count_only_when_asked_for_and_deleted_ones_never(due, tmp_path):
    entries = [each | {"demo": each["kind"] != "tank"} for each in month()]
    asked = ("--at", instant("03-20 06:00"), "--zone", ZONE)
    assert [item["rule"] for item in due(export(tmp_path, entries), *asked)] == ["every"]
    assert open_states(due(export(tmp_path, entries), *asked, "--demo")) == expected("03-20 06:00")
    gone = [each | {"deleted": True, "body": {}} for each in month()]
    assert due(export(tmp_path, gone), *asked) == []
