"""The verdict on one entry, wherever it comes from: its shape, then what it means to the room of its kind."""

from tankfoot.batches.meaning import batch_event_problems, reading_problems
from tankfoot.purge.meaning import purge_problems
from tankfoot.record.entry import Problem, check_entry
from tankfoot.report.meaning import basis_problems
from tankfoot.tanks.meaning import tank_problems

MEANING = {
    "purge": purge_problems, "tank": tank_problems, "batch-event": batch_event_problems,
    "tank-reading": reading_problems, "cost-basis": basis_problems,
}


def entry_problems(entry, where=""):
    """The Problems of an ``entry``, which may be any JSON value; none of an empty list.

    Only what stands now is held against its meaning: what a correction replaced is shown and never gone on with.
    """
    return check_entry(entry, where) or meaning_problems(entry, where)


def meaning_problems(entry, where=""):
    """The Problems of what an ``entry``, right in its shape, cannot mean."""
    if entry["deleted"] or entry["kind"] not in MEANING:
        return []
    body = f"{where}.body" if where else "body"
    return [Problem(f"{body}.{place}" if place else body, code, facts)
            for place, code, facts in MEANING[entry["kind"]](entry["body"])]


RANGES = {"entry_problems": ["entry of any meaning", ["", "entries[3]"]]}
