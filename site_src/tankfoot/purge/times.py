"""The times of a run: how long the port was open, and when the solids turned to beer, tapped or seen."""

from tankfoot.purge.machine import last_instants
from tankfoot.record.age import seconds_between


def times_of(body):
    """All times of a run, from one look at its events: {"opened": when, None where it was not; s, None of what is not
    told: "run", how long the port was open; "past", past the colour change; after opened, "change" (the one that
    counts), "tapped" by the hand and "seen" by a camera}.

    The instant that a camera saw counts in place of the tapped one once the hand took it; beer that is seen in the
    glass only after the port was shut was none that left.

    >>> at = {"opened": "06:03:00", "colour-change": "06:04:00", "closed": "06:04:10"}
    >>> events = [{"event": name, "at": f"2026-02-02T{time}.000Z"} for name, time in at.items()]
    >>> times = times_of({"events": events, "watched": {"taken": True, "beer_at": 52.5}})
    >>> times["run"], times["past"], times["change"], times["tapped"]
    (70.0, 17.5, 52.5, 60.0)
    """
    last = last_instants(body["events"])
    opened, change, closed = (last.get(name) for name in ("opened", "colour-change", "closed"))
    seen, taken = seen_after(body), is_taken(body)
    run, tapped = _between(opened, closed), _between(opened, change)
    past = max(run - seen, 0.0) if taken and run is not None else _between(change, closed) or 0.0
    return {
        "opened": opened, "run": run, "past": None if run is None else past,
        "change": seen if taken else tapped, "tapped": tapped, "seen": seen,
    }


def _between(start, end):
    return None if None in (start, end) else seconds_between(start, end)


def run_times(body):
    """Seconds that the port was open, and seconds past the colour change; None without such events.

    >>> at = {"opened": "06:03:00", "colour-change": "06:04:00", "closed": "06:04:10"}
    >>> run_times({"events": [{"event": name, "at": f"2026-02-02T{time}.000Z"} for name, time in at.items()]})
    (70.0, 10.0)
    """
    times = times_of(body)
    return times["run"], times["past"]


def change_after(body):
    """Seconds from opened to the colour change that counts; None where there is none."""
    return times_of(body)["change"]


def tapped_after(body):
    """Seconds from opened to the colour change as it was tapped; None where it was not."""
    return times_of(body)["tapped"]


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
    "times_of": ["watched purge"],
    "run_times": ["watched purge"],
    "change_after": ["watched purge"],
    "tapped_after": ["watched purge"],
    "seen_after": ["watched purge"],
    "is_taken": ["watched purge"],
    "in_run": [[None, -0.001, 0.0, 52.5, 70.0, 70.001], [None, -5.0, 70.0]],
}
