"""When a check is a check no more: one rule for the guided purge and for lists."""

from datetime import datetime

OLD = 1800.0  # s; after such a time away a check is no check any more. Common practice, no source.


def why_old(last, now, is_card_opened, hand, at_work):
    """Why what was checked at the instant ``last`` counts no more ``now``: "card", "hand", "time"; None while it does.

    ``is_card_opened``: whether an emergency card was opened since. ``hand``: the initials of who is there now, None
    where nobody said; ``at_work``: of who made the check.

    >>> why_old("2026-03-01T07:00:00.000Z", "2026-03-01T07:29:59.999Z", False, "AB", "AB")
    >>> why_old("2026-03-01T07:00:00.000Z", "2026-03-01T07:30:00.000Z", False, None, "AB")
    'time'
    """
    if is_card_opened:
        return "card"
    if hand not in (None, at_work):
        return "hand"
    return "time" if seconds_between(last, now) >= OLD else None


def seconds_between(start, end):
    """Seconds from one instant to another.

    >>> seconds_between("2026-03-01T07:00:00.000Z", "2026-03-01T07:01:00.500Z")
    60.5
    """
    return (datetime.fromisoformat(end) - datetime.fromisoformat(start)).total_seconds()


RANGES = {"why_old": "check and what came since", "seconds_between": ["instant", "instant"]}
