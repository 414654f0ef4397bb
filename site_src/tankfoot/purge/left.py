"""How a purge that stands still has left what hangs under the tank."""

from tankfoot.purge.machine import LATEST, standing, tables
from tankfoot.purge.pace import SHORT, pace_of

HANGS = ("hooked-up", "stack-hangs", "hung")
WET = "wet"  # at the short pace told once it is hooked up too


def stack_left(events, state):
    """What may be under the tank after the ``events`` of a purge that led to a ``state``; None where no stack hangs.

    "open": beer can run. "on": the stack hangs with its flow valve open to the hose. "pressure": it hangs otherwise,
    and what leaks past the isolation valve fills it to the tank's pressure. A state that is not known is such a one.

    >>> hung = [{"event": "stack-hangs"}, {"event": "hooked-up"}]
    >>> stack_left([], "hookup"), stack_left(hung, "pressure"), stack_left([*hung, {"event": "apart"}], "rinse")
    (None, 'pressure', None)
    """
    hangs, is_short = False, pace_of(events) == SHORT
    for event in standing(events):
        hangs = (hangs or event["event"] in HANGS or (is_short and event["event"] == WET)) and event["event"] != "apart"
    if not hangs:
        return None
    step = tables()[LATEST].get(state)  # a state means the same in every table
    if step and step.running:
        return "open"
    return "on" if step and step.vented else "pressure"


RANGES = {"stack_left": ["events of a purge", [*tables()[LATEST], "nowhere", "constructor"]]}
