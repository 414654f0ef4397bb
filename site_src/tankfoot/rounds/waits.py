"""What each tank of a round waits for: a round is a few tanks in one walk, each with a purge of its own."""

from tankfoot.purge.machine import LAST, LATEST, instant_of, tables
from tankfoot.record.age import seconds_between

CONTACT_LIMIT = 900.0  # s past the contact time, after which it is wetted again. Common practice, no source.
BEFORE_OPEN = "run"  # beer can run there, if the valve moves before it is told
BEFORE_WET = ("choose", "ready", "cap-valve", "cap-clamp", "cap-wrong", "cap-off")


def waits_for(purge, now, contact, limit):
    """What a tank of a round waits for at the instant ``now``: a dict of ``what`` and the seconds ``left``, else None.

    ``purge``: the body of the tank's purge in this round, None where none has begun. ``contact``: seconds that the
    sanitizer has to stay; ``limit``: seconds after that until it is put on again.

    "begin": no purge yet. "prepare": the port is not wet yet, "wet": it is due to be. "contact": the sanitizer works,
    for the seconds left; "over": it has worked; "again": too long ago. "running": its port is open. "stopped": the
    work stands still with its reason. "go-on": any step after that. "done": saved; "left": it stays as it is.

    >>> wet = {"state": "contact", "open": 1, "events": [{"event": "wet", "at": "2026-03-02T07:00:00.000Z"}]}
    >>> waits_for(wet, "2026-03-02T07:00:20.000Z", 60.0, CONTACT_LIMIT)
    {'what': 'contact', 'left': 40.0}
    >>> waits_for(wet, "2026-03-02T07:16:00.001Z", 60.0, CONTACT_LIMIT), waits_for(None, "", 60.0, CONTACT_LIMIT)
    ({'what': 'again', 'left': None}, {'what': 'begin', 'left': None})
    """
    if purge is not None and purge["state"] == "contact" and "open" in purge:
        return _contact(purge["events"], now, contact, limit)
    return {"what": _what(purge), "left": None}


def _what(purge):
    if purge is None:
        return "begin"
    if purge["state"] == LAST:
        return "done"
    if "open" not in purge:
        return "left"
    step = tables()[LATEST].get(purge["state"])  # a state means the same in every table
    if step and step.running and purge["state"] != BEFORE_OPEN:
        return "running"
    if step and step.stop:
        return "stopped"
    if purge["state"] in BEFORE_WET:
        return "prepare"
    return "wet" if purge["state"] == "sanitise" else "go-on"


def _contact(events, now, contact, limit):
    wet = instant_of(events, "wet")
    if wet is None:
        return {"what": "again", "left": None}
    left = contact - seconds_between(wet, now)
    if left > contact:  # the phone's clock was set back: nobody knows how long it was
        return {"what": "again", "left": None}
    if left > 0.0:
        return {"what": "contact", "left": left}
    return {"what": "over" if -left <= limit else "again", "left": None}


TIMES = ("07:00:00.000", "07:01:00.000", "07:15:00.500", "07:16:00.000", "12:30:00.000")
INSTANTS = [f"2026-03-02T{time}Z" for time in TIMES]
RANGES = {"waits_for": ["purge of a round", INSTANTS, [60.0, 1.5, 600.0], [CONTACT_LIMIT, 0.0, 60.0]]}
