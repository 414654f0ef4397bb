"""How a purge that stands still has left what hangs under the tank."""

from tankfoot.purge.machine import LATEST, standing, state_after, tables

OPEN, PRESSURE, ON = "open", "pressure", "on"
HANGS = ("hooked-up", "stack-hangs")


def stack_left(events, table):
    """What may be under the tank after ``events`` of a purge made with ``table``; None where no stack hangs.

    "open": beer can run. "on": the stack hangs with its flow valve open to the hose. "pressure": it hangs otherwise,
    and what leaks past the isolation valve fills it to the tank's pressure.

    >>> names = ["begin", "all-there", "across", "stack-hangs", "hooked-up"]
    >>> [stack_left([{"event": name} for name in names[:count]], "2") for count in (3, 4)]
    [None, 'pressure']
    """
    hangs = False
    for event in standing(events):
        hangs = (hangs or event["event"] in HANGS) and event["event"] != "apart"
    if not hangs:
        return None
    step = tables()[LATEST][state_after(events, table)]  # a state means the same in every table
    return OPEN if step.running else ON if step.vented else PRESSURE


RANGES = {"stack_left": "purge by its table"}
