"""The times of a run: how long the port was open, and when the solids turned to beer, tapped or seen."""

from tankfoot.purge.machine import last_instants
from tankfoot.record.age import seconds_between


def run_times(body):
    """Seconds that the port was open, and seconds past the colour change; None without such events.

    The instant that a camera saw counts in place of the tapped one once the hand took it; beer that is seen in the
    glass only after the port was shut was none that left.

    >>> at = {"opened": "06:03:00", "colour-change": "06:04:00", "closed": "06:04:10"}
    >>> events = [{"event": name, "at": f"2026-02-02T{time}.000Z"} for name, time in at.items()]
    >>> run_times({"events": events}), run_times({"events": events, "watched": {"taken": True, "beer_at": 52.5}})
    ((70.0, 10.0), (70.0, 17.5))
    """
    last = last_instants(body["events"])
    opened, change, closed = (last.get(name) for name in ("opened", "colour-change", "closed"))
    if opened is None or closed is None:
        return None, None
    run = seconds_between(opened, closed)
    if is_taken(body):
        return run, max(run - seen_after(body), 0.0)
    return run, 0.0 if change is None else seconds_between(change, closed)


def change_after(body):
    """Seconds from opened to the colour change that counts; None where there is none."""
    return seen_after(body) if is_taken(body) else tapped_after(body)


def tapped_after(body):
    """Seconds from opened to the colour change as it was tapped; None where it was not."""
    last = last_instants(body["events"])
    opened, change = (last.get(name) for name in ("opened", "colour-change"))
    return None if opened is None or change is None else seconds_between(opened, change)


def seen_after(body):
    """Seconds from opened to the instant at which a camera saw half of what ran be beer; None where it did not."""
    watched = body.get("watched")
    return watched and watched["beer_at"]


def is_taken(body):
    """Whether the hand took what was seen for its own colour change.

    >>> is_taken({}), is_taken({"watched": {"taken": True, "beer_at": None}})
    (False, False)
    """
    return seen_after(body) is not None and body["watched"]["taken"]


def in_run(after, run):
    """An instant ``after`` opened, s, of a ``run`` of so many; None where it lies in none: a clock was set back.

    >>> in_run(52.5, 70.0), in_run(-3.0, 70.0), in_run(52.5, None)
    (52.5, None, None)
    """
    return after if None not in (after, run) and 0.0 <= after <= run else None


RANGES = {
    "run_times": ["watched purge"],
    "change_after": ["watched purge"],
    "tapped_after": ["watched purge"],
    "seen_after": ["watched purge"],
    "is_taken": ["watched purge"],
    "in_run": [[None, -0.001, 0.0, 52.5, 70.0, 70.001], [None, -5.0, 70.0]],
}
