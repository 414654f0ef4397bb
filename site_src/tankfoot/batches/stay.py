"""A tank with what is in it and what was done to it, made from entries of the record: what due.py asks from."""

from tankfoot.batches.life import in_order, life_in
from tankfoot.batches.rules import events as kinds
from tankfoot.purge.machine import LAST
from tankfoot.tanks.due import end_of


def stay_of(tank, told):
    """The stay of the batch that a ``tank``, an entry, holds: a dict as due_items of due.py wants it.

    ``told``: {"events": entries of the tank, "elsewhere": events that the batch had in other tanks, "purges",
    "readings", "postponed": entries of the tank, "held": whether it is out of use}. Tombstones are left out. More
    purges and readings than those of this stay do no harm.

    ``since``: when the batch came in, None where nobody said what is in the tank; ``entries``: the events of the stay
    as they are stored. A tank that is said to be empty has no interval of its own between purges.
    """
    life = life_in([event for event in told["events"] if not event["deleted"]])
    since = life["since"]
    carried = _carried(told["elsewhere"], tank["id"], life)
    finished = [{"id": purge["id"], "at": end_of(purge)} for purge in told["purges"]
                if not purge["deleted"] and purge["body"]["state"] == LAST]
    read = [{"id": each["id"], "at": each["body"]["at"]} for each in told["readings"]
            if not each["deleted"] and each["body"]["pressure"] is not None]
    filled = [] if since is None else [{"id": tank["id"], "at": since}]
    return {
        "tank": tank["id"], "batch": life["batch"], "since": since, "entries": life["events"],
        "events": [*carried, *map(_plain, life["events"])],
        "purges": _since(since, finished), "readings": _since(since, read), "held": told["held"],
        "postponed": _postponed(told["postponed"]),
        "every": None if since is not None and life["batch"] is None else tank["body"]["purge_every"],
        "last": _in_time([{"id": tank["id"], "at": tank["created"]}, *filled, *finished])[-1],
    }


def _plain(event):
    body = event["body"]
    return {"id": event["id"], "event": body["event"], "at": body["at"], "days": body["days"]}


def _carried(events, tank, life):
    """What stays true of a batch that came from another tank, the latest of each kind, from when it came in."""
    found = {}
    for event in in_order([event for event in events if not event["deleted"]]):
        body = event["body"]
        if (body["batch"] == life["batch"] and body["tank"] != tank and body["at"] <= life["since"]
                and kinds()[body["event"]]["carried"]):
            found[body["event"]] = {**_plain(event), "at": life["since"]}
    return list(found.values())


def _since(since, acts):
    return [act for act in _in_time(acts) if since is None or act["at"] >= since]


def _in_time(acts):
    return sorted(acts, key=lambda act: (act["at"], act["id"]))


def _postponed(entries):
    """{key of an item: until when}; what was said last counts."""
    there = [entry for entry in entries if not entry["deleted"]]
    by_edit = sorted(there, key=lambda entry: (entry["edited"], entry["id"]))
    return {entry["body"]["item"]: entry["body"]["until"] for entry in by_edit}


RANGES = {"stay_of": "tank and what was told of it"}
