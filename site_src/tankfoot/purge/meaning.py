"""Whether a purge of the record can be read by this app: its table, its step and its readings."""

from functools import cache, lru_cache

from tankfoot.calculators import calculators
from tankfoot.purge.machine import LAST, sums, tables
from tankfoot.quantities.text import KEPT, RefusedText, read_quantity
from tankfoot.quantities.units import KINDS, offered

LARGEST = 1e12  # SI, of a reading: as large as an amount of the record may be


def purge_problems(body):
    """[(place in it, code, facts)] of what a purge's ``body``, right in its shape, cannot mean, by their places.

    A limit of a sum is none here: it may have been another one when the purge was made.

    >>> body = {"table": "2", "state": "flowing", "events": [{}], "readings": {"flow": "5 gal/min"}}
    >>> purge_problems(body), purge_problems(body | {"state": "constructor"})
    ([], [('state', 'unknown-step', {'table': '2'})])
    """
    found = []
    if not body["events"] and body["state"] != LAST:
        found.append(("events", "no-events", {}))
    kinds = _kinds()
    unread = [name for name, text in body["readings"].items() if name in kinds and not _is_read(text, kinds[name])]
    found += [(f"readings.{name}", "must-be", {"what": "quantity", "units": _units(kinds[name])})
              for name in sorted(unread)]
    if body["table"] not in tables():
        found.append(("table", "unknown-table", {"tables": ", ".join(sorted(tables()))}))
    elif body["state"] not in tables()[body["table"]]:
        found.append(("state", "unknown-step", {"table": body["table"]}))
    return found


@cache
def _kinds():
    """{name of a reading: its kind of quantity}."""
    likes = {name: like.split(".") for name, like in sums()["readings"].items()}
    return {name: calculators()[calculator].fields[like].kind for name, (calculator, like) in likes.items()}


def _units(kind):
    return ", ".join(dict.fromkeys(symbol for symbols in KINDS[kind].values() for symbol in symbols))


@lru_cache(KEPT)
def _is_read(text, kind):
    """Whether a text is a quantity, or nothing was read."""
    if not text:
        return True
    try:
        reading = read_quantity(text, kind, offered(kind, "us")[0])
    except RefusedText:
        return False
    return abs(reading.si) <= LARGEST


RANGES = {"purge_problems": ["purge of the record"]}
