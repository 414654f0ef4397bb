"""Two records become one: by id, the newest edit wins. Any order of merging gives the same record."""

from dataclasses import dataclass, field

from tankfoot.record.canonical import canonical, utf16
from tankfoot.record.entry import Problem

NEW, NEWER, OLDER, SAME, REFUSED = "new", "newer", "older", "same", "refused"


@dataclass(frozen=True)
class Step:
    """What is done with one of their entries: its ``id`` and the ``action``.

    ``tie``: both were edited at the same instant. ``problem``: why the entry is refused.
    """

    id: str | None
    action: str
    tie: bool = False
    problem: Problem | None = None


@dataclass(frozen=True)
class Merged:
    """The record once merged, by id; those of it to be written; the plan, a Step for each of theirs."""

    entries: list[dict] = field(default_factory=list)
    changed: list[dict] = field(default_factory=list)
    plan: list[Step] = field(default_factory=list)


def merge_entries(mine, theirs, problems=()):
    """``theirs`` merged into ``mine``, all right; the ``problems`` of their other entries join the plan.

    The newest ``edited`` wins. At the same instant the entry with the greater canonical text wins, so that
    every phone keeps the same one.

    >>> mine, theirs = {"id": "a", "edited": "2026-01-01"}, {"id": "a", "edited": "2026-01-02"}
    >>> merge_entries([mine], [theirs]).plan[0].action, merge_entries([theirs], [mine]).plan[0].action
    ('newer', 'older')
    """
    record, changed, plan = {entry["id"]: entry for entry in mine}, {}, []
    for entry in theirs:
        id = entry["id"]
        action, tie = _action(record.get(id), entry)
        plan.append(Step(id, action, tie))
        if action in (NEW, NEWER):
            record[id] = changed[id] = entry
    plan += [Step(problem.id, REFUSED, problem=problem) for problem in problems]
    return Merged(_by_id(record), _by_id(changed), plan)


def _action(mine, theirs):
    if mine is None:
        return NEW, False
    if mine["edited"] != theirs["edited"]:
        return NEWER if mine["edited"] < theirs["edited"] else OLDER, False
    my_text, their_text = utf16(canonical(mine)), utf16(canonical(theirs))
    if my_text == their_text:
        return SAME, False
    return NEWER if my_text < their_text else OLDER, True


def _by_id(entries):
    return [entries[id] for id in sorted(entries)]


RANGES = {
    "merge_entries": ["edited entries", "edited entries", "problems"],
}
