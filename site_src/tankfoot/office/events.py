"""What happened to batches, in columns: what each tank held when it was purged, and when each batch began."""

from itertools import groupby

from tankfoot.batches.life import batch_in, changes_of
from tankfoot.batches.rules import events as kinds
from tankfoot.office.columns import Ids, Instants
from tankfoot.report.shares import KINDS

COLUMNS = {"id": Ids, "at": Instants, "batch": Ids, "tank": Ids, "event": list, "amount": list}


def tells(event):
    """Whether an ``event``, by its name, moves a batch or says how much of it there is."""
    kind = kinds()[event]
    return bool(kind["fills"] or kind["empties"] or event in KINDS)


def row_of(entry):
    """What is taken of an ``entry``."""
    return {"id": entry["id"], **{name: entry["body"][name] for name in COLUMNS if name != "id"}}


def batches_of(facts, events):
    """The batch that was in the tank of each purge in ``facts`` when it was made, None where nobody said."""
    purges = {}
    for row, tank in enumerate(facts["tank"]):
        purges.setdefault(tank, []).append(row)
    held = [None] * len(facts["id"])
    tanks, order = events["tank"], range(len(events["id"]))
    for tank, rows in groupby(sorted(order, key=tanks.__getitem__), key=tanks.__getitem__):
        if tank in purges:
            changes = changes_of([_entry(events, row) for row in rows])
            for row in purges[tank]:
                held[row] = batch_in(changes, facts["created"][row])
    return held


def bodies_of(events):
    """What each event says of how much there is, one after the other."""
    names = ("batch", "event", "amount")
    return (dict(zip(names, told, strict=True)) for told in zip(*(events[name] for name in names), strict=True))


def first_instants(events, batches):
    """{batch: when the first thing happened to it} of ``batches``."""
    first = {}
    for batch, at in zip(events["batch"], events["at"], strict=True):
        if batch in batches:
            first[batch] = min(first.get(batch, at), at)
    return first


def _entry(events, row):
    return {"id": events["id"][row], "body": {name: events[name][row] for name in ("at", "batch", "event")}}
