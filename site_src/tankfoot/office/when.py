"""The instant and the time zone that a command is told, or those of this machine."""

import os
import re
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

YEARS = range(1900, 2100)  # those of the record's instants
LOCALTIME = Path("/etc/localtime")
BEHIND = re.compile(r"zoneinfo/(?:posix/)?(.+)$")  # the name of a zone at the end of the path of its file


def instant_of(text, zone):
    """The instant that a ``text`` of ISO 8601 names, as the record writes it; without an offset the time of ``zone``.

    None where it names none.

    >>> instant_of("2026-03-29T06:00+02:00", "UTC"), instant_of("2026-03-29 06:00", "Europe/Berlin")
    ('2026-03-29T04:00:00.000Z', '2026-03-29T04:00:00.000Z')
    """
    try:
        moment = datetime.fromisoformat(text)
        moment = (moment if moment.tzinfo else moment.replace(tzinfo=ZoneInfo(zone))).astimezone(UTC)
    except (ValueError, OverflowError):
        return None
    return _written(moment) if moment.year in YEARS else None


def present():
    """This instant, by the machine's clock."""
    return _written(datetime.now(UTC))


def with_offset(instant, zone):
    """An ``instant`` as ISO 8601 with the offset that the clock of a ``zone`` has then.

    >>> with_offset("2026-03-29T01:00:00.000Z", "Europe/Berlin")
    '2026-03-29T03:00:00+02:00'
    """
    moment = datetime.fromisoformat(instant).astimezone(ZoneInfo(zone))
    return moment.isoformat(timespec="milliseconds" if moment.microsecond else "seconds")


def is_zone(name):
    """Whether a ``name`` is one of a time zone that this machine has data of."""
    try:
        ZoneInfo(name)
    except (KeyError, ValueError, OSError):  # KeyError: not found; the others: a folder, another file, no path
        return False
    return True


def own_zone(set_to=None, localtime=LOCALTIME):
    """The name of this machine's zone: what TZ is ``set_to``, else where ``localtime`` leads; None: neither tells."""
    set_to = os.environ.get("TZ") if set_to is None else set_to
    path = str(localtime.resolve()) if set_to is None else set_to.removeprefix(":")
    found = BEHIND.search(path.replace(os.sep, "/"))
    name = found[1] if found else path
    return name if is_zone(name) else None


def _written(moment):
    return moment.isoformat(timespec="milliseconds").replace("+00:00", "Z")
