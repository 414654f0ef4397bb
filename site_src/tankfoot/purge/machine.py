"""The guided purge as a state machine over a table: which step follows which event, and what a run of events means."""

import tomllib
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from importlib.resources import files

FIRST = "choose"
LAST = "saved"
TROUBLE, UNDO, SKIP = "trouble", "undo", "skip"


class WrongEvent(Exception):
    """An event that its step does not know. ``code`` is a stable word shared with the browser."""

    code = "wrong-event"


@dataclass(frozen=True)
class Step:
    """One step: its ``events`` and the states they lead to, the readings it ``saves``, the results of sums it
    ``shows`` ("sum.result"), what else it ``has`` on its screen, where a ``skip`` leads, and whether it is part of the
    clamp check (``gate``)."""

    state: str
    events: dict[str, str]
    saves: tuple[str, ...] = ()
    shows: tuple[str, ...] = ()
    has: tuple[str, ...] = ()
    skip: str | None = None
    gate: bool = False


@cache
def table():
    """The whole table as read from ``table.toml``."""
    return tomllib.loads((files(__package__) / "table.toml").read_text(encoding="utf-8"))


@cache
def steps():
    """{state: Step}, in the order of the work."""
    made = (Step(**{key: tuple(value) if isinstance(value, list) else value for key, value in row.items()})
            for row in table()["steps"])
    return {step.state: step for step in made}


def next_state(state, event):
    """The state after ``event`` in ``state``; raises WrongEvent where the table has no such event, or no such state.

    >>> next_state("flowing", "colour-change"), next_state("ready", "skip"), next_state("flowing", "trouble")
    ('beer', 'sanitise', 'flowing')
    """
    step = steps().get(state)
    if step is None:
        raise WrongEvent(f"there is no step {state!r}: choose one of {', '.join(steps())}")
    if event == TROUBLE and state not in (FIRST, LAST):
        return state
    target = step.skip if event == SKIP else step.events.get(event)
    if target is None:
        raise WrongEvent(f"{event!r} does not exist at {state!r}: choose one of {', '.join(step.events) or 'none'}")
    return target


def state_after(events):
    """The state that the ``events`` of a purge lead to from the first step; raises WrongEvent.

    Only those that are ``standing`` count: what was taken back may have been anything, and an "undo" with nothing to
    take back means nothing. This is the lenient meaning, by which the browser has made every state that is stored: a
    strict one would refuse purges that are sound.

    >>> state_after([{"event": name} for name in ("begin", "all-there", "undo", "undo", "undo", "begin")])
    'ready'
    """
    state = FIRST
    for event in standing(events):
        state = next_state(state, event["event"])
    return state


def standing(events):
    """The events that still stand once every "undo" has taken back the last other one, if there was one.

    >>> standing([{"event": name} for name in ("undo", "begin", "opened", "undo")])
    [{'event': 'begin'}]
    """
    kept = []
    for event in events:
        if event["event"] != UNDO:
            kept.append(event)
        elif kept:
            kept.pop()
    return kept


def instant_of(events, name):
    """When the event last happened, as it was written; None where it did not."""
    return next((event["at"] for event in reversed(standing(events)) if event["event"] == name), None)


def run_times(events):
    """Seconds that the port was open, and seconds past the colour change; None without such events.

    >>> at = {"opened": "06:03:00", "colour-change": "06:04:00", "closed": "06:04:10"}
    >>> run_times([{"event": name, "at": f"2026-02-02T{time}.000Z"} for name, time in at.items()])
    (70.0, 10.0)
    """
    opened, change, closed = (instant_of(events, name) for name in ("opened", "colour-change", "closed"))
    if opened is None or closed is None:
        return None, None
    return _seconds(opened, closed), 0.0 if change is None else _seconds(change, closed)


def _seconds(start, end):
    return (datetime.fromisoformat(end) - datetime.fromisoformat(start)).total_seconds()


RANGES = {
    "next_state": ["state of a purge", "event of a purge"],
    "state_after": ["events of a purge"],
    "standing": ["events of a purge"],
}
