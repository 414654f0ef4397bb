"""The guided purge as a state machine over a table: which step follows which event, and what a run of events means.

An event is {"at": instant, "state", "event", "data"}. Four events belong to no step: "undo" takes the last other one
back, "trouble" says that an emergency card was opened, "hand" that another hand took over, "aged" that a step had grown
old and its check begins again. Purges remember which table they were made with, and are replayed by that.
"""

import tomllib
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files

from tankfoot.record.age import why_old

FIRST = "choose"
LAST = "saved"
LATEST, GAS_FIRST = "2", "2-gas-first"
TROUBLE, HAND, AGED, UNDO, SKIP = "trouble", "hand", "aged", "undo", "skip"
ANYWHERE = (TROUBLE, HAND)  # they lead nowhere
WALKS = 5000  # ways through a table whose end is remembered: most purges go one of a few


class WrongEvent(Exception):
    """An event that its step does not know. ``code`` is a stable word shared with the browser."""

    code = "wrong-event"


@dataclass(frozen=True)
class Step:
    """One step of a table.

    ``events`` and the states they lead to; where a ``skip`` with a reason leads. A target is a state, or a dict of them
    by how the tank stood at the start, by "ran" once the port was open and shut again, and by "else".

    ``saves``: readings taken here. ``shows``: results of sums ("sum.result"). ``lines``: lines of checklists shown as
    they stand there ("list.line"). ``gate``: a clamp is about to move, so answers change places. ``again``: where the
    purge goes back to once the step has grown old, None where nothing grows old. ``pressures``: readings that close the
    way on while one is above the rated pressure. ``facts``: events that nothing ever closes. ``aside``: events that
    are seldom wanted. ``hold``: why the tank is out of use from here on.
    ``wait``: seconds before the first answer is taken. ``stop``: the work stops here. ``running``: beer can run.
    ``vented``: the flow valve stands open to the hose. ``has``: what else the step shows.
    """

    state: str
    events: dict
    saves: tuple[str, ...] = ()
    shows: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    has: tuple[str, ...] = ()
    pressures: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    aside: tuple[str, ...] = ()
    skip: str | dict | None = None
    again: str | None = None
    hold: str | None = None
    wait: float = 0.0
    gate: bool = False
    stop: bool = False
    running: bool = False
    vented: bool = False


@cache
def sums():
    """What a purge reads and reckons: "readings", "instruments", "step_by" and "sums" of ``sums.toml``."""
    return _parsed("sums.toml")


@cache
def tables():
    """{name: {state: Step}}, the steps in the order of the work."""
    made = {}
    for name, file in rows().items():
        made[name] = _steps(file["steps"], {})
        made |= {other: _steps(file["steps"], changes) for other, changes in file.get("changes", {}).items()}
    return made


@cache
def rows():
    """{name: the file of a table as it was read}."""
    return {name: _parsed(f"tables/{name}.toml") for name in ("1", LATEST)}


@cache
def begins():
    """{event: how the tank stands} of the events that begin a purge."""
    return rows()[LATEST]["begins"]


def _parsed(path):
    return tomllib.loads((files(__package__) / path).read_text(encoding="utf-8"))


def _steps(steps, changes):
    return {row["state"]: _step(row, changes) for row in steps}


def _step(row, changes):
    events = {event: changes.get(f"{row['state']}.{event}", target) for event, target in row["events"].items()}
    skip = changes.get(f"{row['state']}.{SKIP}", row.get("skip"))
    rest = {key: tuple(value) if isinstance(value, list) else value for key, value in row.items()}
    return Step(**rest | {"events": events, "skip": skip})


def next_state(state, event, before=(), table=LATEST):
    """The state after ``event`` in ``state``; ``before``: the names of the events that stand before it.

    Raises WrongEvent where the table has no such state, or the state no such event.

    >>> next_state("flowing", "colour-change"), next_state("flowing", "trouble")
    ('beer', 'flowing')
    >>> next_state("hookup", "hooked-up", ["begin"]), next_state("hookup", "hooked-up", ["begin-open"])
    ('pressure', 'vent')
    """
    step = tables()[table].get(state)
    if step and event in ANYWHERE and state not in (FIRST, LAST):
        return state
    target = step and (step.again if event == AGED else step.skip if event == SKIP else step.events.get(event))
    if isinstance(target, dict):
        keys = ["ran"] * ("closed" in before) + [kind_of(before), "else"]
        target = next((target[key] for key in keys if key in target), None)
    if target is None:
        known = ", ".join(step.events) if step else ""
        raise WrongEvent(f"{event!r} does not exist at {state!r}: choose one of {known or 'none'}")
    return target


def kind_of(names):
    """How the tank stood when a purge with events of these ``names`` began: closed, spunding, bubbling or open.

    >>> kind_of(["begin-open", "all-there"])
    'open'
    """
    return next((begins()[name] for name in names if name in begins()), "closed")


def standing(events):
    """The events that still stand once every "undo" has taken back the last other one.

    An "aged" is never taken back, or a check would be as good as new. An "undo" with nothing before it does nothing.
    """
    if UNDO not in [event["event"] for event in events]:
        return [*events]
    kept = []
    for event in events:
        if event["event"] != UNDO:
            kept.append(event)
        elif kept and kept[-1]["event"] != AGED:
            kept.pop()
    return kept


def state_after(events, table=LATEST):
    """The state that ``events`` lead to from the first step. Raises WrongEvent where one that stands is unknown there.

    >>> state_after([{"event": name} for name in ("begin", "all-there", "undo")])
    'ready'
    """
    return _state_after(tuple(event["event"] for event in standing(events)), table)


@lru_cache(WALKS)
def _state_after(names, table):
    state = FIRST
    for place, name in enumerate(names):
        state = next_state(state, name, names[:place], table)
    return state


def grown_old(events, now, hand=None, table=LATEST):
    """Whether the check at the step that ``events`` lead to has grown old, ``now`` an instant.

    Old is: half an hour since the last event, an emergency card opened there, or another ``hand`` (initials) than the
    one that was at the tank. A step without ``again`` never grows old: what runs, runs.

    >>> begun = [{"event": "begin", "at": "2026-03-01T07:00:00.000Z"}]
    >>> grown_old(begun, "2026-03-01T07:29:59.000Z"), grown_old(begun, "2026-03-01T07:30:00.000Z")
    (False, True)
    """
    if not standing(events) or tables()[table][state_after(events, table)].again is None:
        return False
    last = next(event["event"] for event in reversed(events) if event["event"] != UNDO)
    return why_old(events[-1]["at"], now, last in ANYWHERE, hand, hand_of(events)) is not None


def hand_of(events):
    """The initials of the hand at the tank, as the last event that names one says; None where none does."""
    said = (event["data"].get("by") for event in reversed(events) if "data" in event)
    return next((by for by in said if by), None)


def holds_of(events, table=LATEST):
    """Why the tank is out of use by what stands in ``events``: the reasons, each once; none that was cleared since.

    >>> holds_of([{"event": name} for name in ("begin-open", "all-there", "stack-hangs", "hooked-up", "end-clear",
    ...                                        "nothing-comes")])
    ['plug']
    """
    state, names, reasons = FIRST, [], []
    for event in standing(events):
        state = next_state(state, event["event"], names, table)
        names.append(event["event"])
        hold = tables()[table][state].hold
        if event["event"] == "cleared":
            reasons.clear()
        elif hold and hold not in reasons:
            reasons.append(hold)
    return reasons


def instant_of(events, name):
    """When the event last happened, as it was written; None where it did not."""
    return next((event["at"] for event in reversed(standing(events)) if event["event"] == name), None)


def last_instants(events):
    """{event: when it last happened, as it was written} of all that stand."""
    return {event["event"]: event["at"] for event in standing(events)}


RANGES = {
    "next_state": "step of a purge",
    "kind_of": ["names of events"],
    "standing": ["events of a purge"],
    "last_instants": ["events of a purge"],
    "state_after": "purge by its table",
    "grown_old": "purge at an instant",
    "hand_of": ["events of a purge"],
    "holds_of": "purge by its table",
}
