"""When tanks are due for a purge."""

import math
from datetime import UTC, datetime, timedelta

DAY = 86400.0
HOUR = 3600.0
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def end_of(entry):
    """The instant that a finished purge's ``entry`` ended; of one that came without events, when it was made.

    >>> end_of({"created": "2026-03-01T07:05:09.120Z", "body": {"events": []}})
    '2026-03-01T07:05:09.120Z'
    """
    events = entry["body"]["events"]
    return events[-1]["at"] if events else entry["created"]


def by_due(tanks, now):
    """``tanks`` with the ``wait`` (s) until each is due, negative once it is overdue; the longest overdue first.

    Each has ``every``, the s between its purges, and ``since``, the instant of the last one or, before the first, of
    the tank's making; a tank without ``every`` is never due. ``now`` in ms since the start of 1970, UTC.

    >>> by_due([{"every": 3600.0, "since": "1970-01-01T00:00:00.000Z"}], 1.8e6)[0]["wait"]
    1800.0
    """
    timed = [{**tank, "wait": (_milliseconds(tank["since"]) - now) / 1000.0 + tank["every"]}
             for tank in tanks if tank["every"]]
    return sorted(timed, key=lambda tank: tank["wait"])


def in_days_or_hours(wait):
    """A ``wait`` (s) in days from two days on, else in hours, rounded; less than an hour either way is None.

    >>> in_days_or_hours(2.0 * DAY), in_days_or_hours(-1.5 * HOUR), in_days_or_hours(60.0)
    ((2, 'day'), (2, 'hour'), None)
    """
    seconds = abs(wait)
    if seconds < HOUR:
        return None
    length, unit = (HOUR, "hour") if seconds < 2.0 * DAY else (DAY, "day")
    return math.floor(seconds / length + 0.5), unit


def _milliseconds(instant):
    return (datetime.fromisoformat(instant) - EPOCH) / timedelta(milliseconds=1)


RANGES = {
    "end_of": ["ended entry"],
    "by_due": "tanks and when",
    "in_days_or_hours": [(-4e5, 4e5, HOUR, -HOUR, 1.5 * HOUR, 2.0 * DAY, 2.5 * DAY, 3590.0)],
}
