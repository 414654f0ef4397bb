"""The invented brewery ends today, whatever day it is loaded on and wherever the phone is."""

import itertools
import json
from datetime import UTC, datetime, timedelta
from importlib.resources import files
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import expect
from tankfoot.cli import main
from tankfoot.purge.machine import LAST
from tankfoot.tanks.due import by_due, end_of

RECORD = Path(str(files("tankfoot"))) / "site/assets/demo/record.json"
FROZEN = json.loads(RECORD.read_text(encoding="utf-8"))["entries"]
# Zones whose clocks change in spring or in autumn, by half an hour, or never. Source: the IANA time zone database.
ZONES = ("America/New_York", "Europe/London", "Australia/Lord_Howe", "America/Santiago", "UTC", "Pacific/Kiritimati")
YEAR = 2028  # a leap year
HOURS = (0, 7, 23)  # when it is loaded: before, at and after the time of day at which the record ends
DATED = """async ([url, from, nows]) => {
  const { take } = await import(url);
  const { datedFromToday } = take("browser/record/demo_dates.js");
  const { entries } = await (await fetch(from)).json();
  const instantsOf = ({ created, edited, body }) => [created, edited, body.events?.at(-1)?.at ?? null];
  return nows.map((now) => datedFromToday(entries, now).map(instantsOf));
}"""
WHOLE = """async ([url, from, now]) => {
  const { take } = await import(url);
  return take("browser/record/demo_dates.js").datedFromToday((await (await fetch(from)).json()).entries, now);
}"""


@pytest.fixture
def nows(abroad, pytestconfig):
    """Some hours of every so many days of the year, of its ends, of leap day and of the days about a clock change."""
    step, zone = pytestconfig.getoption("demo_days"), ZoneInfo(abroad[1])
    days = [datetime(YEAR, 1, 1, tzinfo=zone) + timedelta(days=number) for number in range(366)]
    assert (days[-1].month, days[-1].day) == (12, 31)
    special = {0, 58, 59, 60, 365}
    for number, (day, after) in enumerate(itertools.pairwise(days)):
        if day.utcoffset() != after.utcoffset():
            special |= {number - 1, number, number + 1}
    return [day.replace(hour=hour) for number, day in enumerate(days) if number % step == 0 or number in special
            for hour in HOURS]


def ms(moment):
    return int(moment.timestamp() * 1000)


def last_event(entry):
    events = entry["body"].get("events")
    return events[-1]["at"] if events else None


def wall(instant, zone):
    return datetime.fromisoformat(instant).astimezone(zone).replace(tzinfo=None)


@pytest.fixture(params=ZONES)
def abroad(request, chromium, served):
    context = chromium.new_context(timezone_id=request.param, service_workers="block")
    page = context.new_page()
    page.goto(f"{served.address}record/")
    yield page, request.param
    context.close()


def test_on_any_day_of_the_year_it_ends_today_and_keeps_its_times_of_day(abroad, served, nows):
    page, name = abroad
    zone = ZoneInfo(name)
    told = page.evaluate(DATED, [served.script, f"{served.address}assets/demo/record.json", [ms(now) for now in nows]])
    frozen = [[entry["created"], entry["edited"], last_event(entry)] for entry in FROZEN]
    for now, entries in zip(nows, told, strict=True):
        shifts = {
            wall(moved, zone) - datetime.fromisoformat(stands).replace(tzinfo=None)
            for entry, was in zip(entries, frozen, strict=True)
            for moved, stands in zip(entry, was, strict=True) if stands
        }
        # one number of whole days for all: no time of day moved
        assert len(shifts) == 1 and shifts.pop() % timedelta(days=1) == timedelta(0), now
        latest = max(datetime.fromisoformat(edited) for _, edited, _ in entries)
        assert now.astimezone(UTC) - timedelta(hours=25) < latest <= now.astimezone(UTC), now


def test_on_any_day_of_the_year_two_tanks_are_due(abroad, served, nows):
    page, _ = abroad
    told = page.evaluate(DATED, [served.script, f"{served.address}assets/demo/record.json", [ms(now) for now in nows]])
    tanks = {entry["id"]: entry["body"] for entry in FROZEN if entry["kind"] == "tank"}
    last = {}
    for place, entry in enumerate(FROZEN):
        if entry["kind"] == "purge" and not entry["deleted"] and entry["body"]["state"] == LAST:
            tank = entry["body"]["tank"]
            last[tank] = max(last.get(tank, place), place, key=lambda at: end_of(FROZEN[at]))
    assert set(last) == set(tanks)
    for now, entries in zip(nows, told, strict=True):
        rhythms = [
            {"name": tanks[id]["name"], "every": tanks[id]["purge_every"], "since": entries[place][2]}
            for id, place in last.items()
        ]
        due = [tank["name"] for tank in by_due(rhythms, ms(now)) if tank["wait"] <= 0]
        assert sorted(due) == ["Sample 2", "Sample 3"], now


def test_nothing_but_instants_moves_however_deep_they_stand(abroad, served):
    page, name = abroad
    now = datetime(2027, 2, 3, 12, tzinfo=ZoneInfo(name))
    moved = page.evaluate(WHOLE, [served.script, f"{served.address}assets/demo/record.json", ms(now)])
    count = 0

    def compare(old, new):
        nonlocal count
        if isinstance(old, dict):
            assert old.keys() == new.keys()
            for key in old:
                compare(old[key], new[key])
        elif isinstance(old, list):
            for one, other in zip(old, new, strict=True):
                compare(one, other)
        elif old != new:
            assert datetime.fromisoformat(new) - datetime.fromisoformat(old) > timedelta(days=200)
            count += 1

    compare(FROZEN, moved)
    assert count > 1000


@pytest.fixture
def loaded(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}record/")
    expect(page.locator("[data-record][data-ready]")).to_be_attached()
    page.get_by_role("button", name="Load the demo").click()
    expect(page.get_by_text("The demo is loaded")).to_be_visible()
    return page


def test_loaded_it_gives_today_two_tanks_that_are_due_and_a_purge_to_go_on_with(loaded, served):
    page = loaded
    page.goto(served.address)
    expect(page.locator("main[data-today][data-ready]")).to_be_attached()
    due = page.locator("[data-due] li strong").all_inner_texts()
    assert [name.split(" · ")[0] for name in sorted(due)] == ["Sample 2 (invented)", "Sample 3 (invented)"]
    assert page.locator("[data-next] li").count() >= 3
    page.locator("[data-open] a").click()
    page.locator("[data-purge][data-ready]").wait_for()
    expect(page.locator("[data-step]:visible")).to_have_attribute("data-step", "rest")
    # nothing of it has not happened yet
    newest = page.evaluate(
        """async (url) => {
          const all = await (await import(url)).take("browser/storage/record.js").everything();
          return all.map(({ edited }) => edited).sort().at(-1);
        }""", served.script)
    assert datetime.fromisoformat(newest) <= datetime.now(UTC)


def test_its_export_is_sound(loaded, tmp_path, capsys):
    with loaded.expect_download() as download:
        loaded.get_by_role("button", name="Export all").click()
    file = tmp_path / "export.json"
    download.value.save_as(file)
    assert main(["check", str(file)]) == 0
    assert "Sample" not in capsys.readouterr().err
