"""Days as a clock on the wall counts them, in a zone of the IANA time zone database."""

import math
from datetime import UTC, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
DAY = 86_400_000  # ms


def days_after(instant, days, zone):
    """The instant at which the clock of a ``zone`` shows the same time, so many ``days`` (float) after ``instant``.

    A time that the clock leaps over counts as long after the leap as it would be without it; of one that it shows
    twice, the first (RFC 5545, 3.3.5).

    >>> days_after("2026-03-28T01:30:00.000Z", 1.0, "Europe/Berlin")  # 02:30 is leapt over: 03:30 of summer
    '2026-03-29T01:30:00.000Z'
    >>> days_after("2026-10-31T06:30:00.000Z", 1.0, "America/New_York")  # 02:30 of summer to 02:30 of winter
    '2026-11-01T07:30:00.000Z'
    """
    return _written(_instant_of(wall_of(_read(instant), zone) + _whole(days * DAY), zone))


def start_of_day(instant, days, zone):
    """The first instant of the day in a ``zone`` that comes ``days`` (whole) after the one of ``instant``.

    >>> start_of_day("2026-03-28T22:30:00.000Z", 1.0, "Europe/Berlin")  # 23:30 of the 28th, there
    '2026-03-28T23:00:00.000Z'
    """
    wall = wall_of(_read(instant), zone)
    return _written(_instant_of(wall - wall % DAY + _whole(days * DAY), zone))


def wall_of(ms, zone):
    """What the clock of a ``zone`` shows at ``ms`` since the start of 1970, UTC, in ms as if that were UTC.

    >>> wall_of(0, "Asia/Kolkata") / 3_600_000
    5.5
    """
    shown = (EPOCH + timedelta(milliseconds=ms)).astimezone(_zone(zone))
    return _milliseconds(shown.replace(tzinfo=UTC))


def wall_text(instant, zone):
    """What the clock of a ``zone`` shows at an ``instant``, to the minute, as ISO 8601 writes days and times.

    >>> wall_text("2026-03-29T01:00:00.000Z", "Europe/Berlin")
    '2026-03-29 03:00'
    """
    return datetime.fromisoformat(instant).astimezone(_zone(zone)).replace(tzinfo=None).isoformat(" ", "minutes")


def _instant_of(wall, zone):
    shown = (EPOCH + timedelta(milliseconds=wall)).replace(tzinfo=_zone(zone))
    return _milliseconds(shown.astimezone(UTC))


@cache
def _zone(name):
    return ZoneInfo(name)


def _whole(number):
    return math.floor(number + 0.5)


def _read(instant):
    return _milliseconds(datetime.fromisoformat(instant))


def _milliseconds(moment):
    return (moment - EPOCH) // timedelta(milliseconds=1)


def _written(ms):
    moment = EPOCH + timedelta(milliseconds=ms)
    return f"{moment:%Y-%m-%dT%H:%M:%S}.{moment.microsecond // 1000:03d}Z"


ZONES = (
    "UTC", "Europe/Berlin", "Europe/London", "America/New_York", "America/Los_Angeles", "America/Sao_Paulo",
    "Australia/Lord_Howe", "Asia/Kolkata", "Pacific/Auckland", "America/Santiago",
)
RANGES = {
    "days_after": ["instant near a change of clocks", [0.0, 0.5, 1.0, 2.0, 3.5, 7.0, 31.0, 366.0], [*ZONES]],
    "start_of_day": ["instant near a change of clocks", [0.0, 1.0, 2.0, 7.0, 31.0], [*ZONES]],
    "wall_text": ["instant near a change of clocks", [*ZONES]],
    "wall_of": ["milliseconds near a change of clocks", [*ZONES]],
}
