"""Python's data of time zones and the browser's say the same of the years 2020 to 2035."""

import json
import random
from datetime import UTC, datetime, timedelta

import pytest
from tankfoot.batches.wall_clock import ZONES, wall_of

YEARS = range(2020, 2036)
DAY, HOUR = timedelta(days=1), timedelta(hours=1)
START, END = datetime(YEARS[0], 1, 1, tzinfo=UTC), datetime(YEARS[-1] + 1, 1, 1, tzinfo=UTC)
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
A_YEAR = 12  # instants beside those about the changes
WALLS = """async ([url, asked]) => {
  const { wallOf } = (await import(url)).take("batches/wall_clock.js");
  return JSON.stringify(JSON.parse(asked).map(([zone, instants]) => instants.map((ms) => wallOf(ms, zone))));
}"""


def milliseconds(moment):
    return (moment - EPOCH) // timedelta(milliseconds=1)


def changes(zone):
    """The days, by UTC, on which the offset of a zone changes."""
    days = [START + DAY * place for place in range((END - START).days + 1)]
    offsets = [wall_of(milliseconds(day), zone) - milliseconds(day) for day in days]
    return [day for day, offset, then in zip(days, offsets, offsets[1:], strict=False) if offset != then]


def instants(zone):
    """Every hour of the two days about each change, a millisecond before and after it, and some of every year."""
    rng = random.Random(zone)
    found = [day + HOUR * hour + timedelta(milliseconds=ms)
             for day in changes(zone) for hour in range(-12, 37) for ms in (-1, 0, 1)]
    found += [day + HOUR * hour + HOUR / 2 for day in changes(zone) for hour in range(-12, 37)]
    found += [datetime(year, 1, 1, tzinfo=UTC) + timedelta(milliseconds=rng.randrange(31_536_000_000))
              for year in YEARS for _ in range(A_YEAR)]
    return [milliseconds(moment) for moment in found]


# Source: the zone data that Chromium brings with it (ICU) against Python's zoneinfo (the system's, else tzdata).
def test_ten_zones_over_sixteen_years(chromium, served, tell):
    asked = [(zone, instants(zone)) for zone in ZONES]
    page = chromium.new_page(service_workers="block")
    page.goto(served.address)
    walls = json.loads(page.evaluate(WALLS, [served.script, json.dumps(asked)]))
    page.close()
    wrong = [(zone, ms, wall) for (zone, given), shown in zip(asked, walls, strict=True)
             for ms, wall in zip(given, shown, strict=True) if wall_of(ms, zone) != wall]
    tell(f"zones: {sum(len(given) for _, given in asked)} instants, {len(ZONES)} zones")
    assert wrong == []


# From memory: clocks changed twice a year in Europe, North America, Chile, New Zealand and on Lord Howe throughout; in
# Brazil (since 2019), India and UTC never.
@pytest.mark.parametrize("zone", ZONES)
def test_the_changes_are_found(zone):
    never = ("UTC", "Asia/Kolkata", "America/Sao_Paulo")
    assert len(changes(zone)) == (0 if zone in never else 2 * len(YEARS))
