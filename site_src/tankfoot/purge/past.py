"""What was: of purges that are over, the numbers that the next one learns from."""

from tankfoot.purge.clock import was_set_back
from tankfoot.purge.machine import instant_of
from tankfoot.purge.times import change_after, run_times
from tankfoot.record.age import seconds_between

DAY = 86400.0  # s
LONGEST_REST = 14.0  # days: after more it is another beer as a rule. Common practice, no source


def past_of(purges, fillings=None):
    """Of the bodies of ``purges`` whose port was opened and shut, in time:

    {"tank", "solids"; "opened", "closed": instants; "seconds": until the colour changed; "rest": days of rest before
    it; "loss": the beer lost, with the solids and after them, m3}, the last three None where nothing tells them.

    ``fillings``: {tank: instants} at which another beer came in: no rest lies across one. Left out are purges without
    a tank, and those whose clock was set back.
    """
    told = [body for body in purges if body["tank"] is not None and was_set_back(*run_times(body)) is False]
    last, found = {}, []
    for body in sorted(told, key=lambda body: instant_of(body["events"], "opened")):
        opened, closed = (instant_of(body["events"], name) for name in ("opened", "closed"))
        found.append({
            "tank": body["tank"], "solids": body["solids"], "opened": opened, "closed": closed,
            "seconds": change_after(body),
            "rest": rest_between(last.get(body["tank"]), opened, (fillings or {}).get(body["tank"], ())),
            "loss": _beer_lost(body["result"]),
        })
        last[body["tank"]] = closed
    return found


def rest_between(closed, opened, fillings=()):
    """Days from one purge's end to the next one's beginning; None where that is no rest of one beer. All are instants.

    >>> rest_between("2026-03-01T07:00:00.000Z", "2026-03-03T19:00:00.000Z")
    2.5
    >>> rest_between(None, "2026-03-03T19:00:00.000Z")
    """
    if closed is None or any(closed < at <= opened for at in fillings):
        return None
    days = seconds_between(closed, opened) / DAY
    return days if 0.0 < days <= LONGEST_REST else None


def _beer_lost(result):
    parts = [result.get(name) for name in ("beer_in_solids", "overrun")]
    return None if None in parts else sum(part["value"] for part in parts)


RANGES = {"past_of": "purges that were", "rest_between": "an end and a beginning"}
