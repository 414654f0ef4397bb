"""What the scripts of the invented brewery share: units, instants, entries."""

import uuid
from datetime import UTC, datetime

from tankfoot.quantities.units import units

FIRST_DAY = datetime(2026, 3, 2, 7, tzinfo=UTC)


def si(value, symbol):
    """``value`` in the unit ``symbol`` as SI."""
    return value * units()[symbol].factor + units()[symbol].offset


def in_unit(value, symbol):
    """SI ``value`` in the unit ``symbol``."""
    return (value - units()[symbol].offset) / units()[symbol].factor


def instant(moment):
    """As JavaScript's toISOString writes it."""
    return moment.strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.microsecond // 1000:03d}Z"


def entry(rng, kind, moment, body):
    """A new entry of the invented brewery."""
    id, at = str(uuid.UUID(int=rng.getrandbits(128), version=4)), instant(moment)
    head = {"id": id, "kind": kind, "created": at, "edited": at, "deleted": False, "demo": True}
    return head | {"body": body, "history": []}


def nine(value):
    """Nine digits are enough, and no machine differs in them."""
    return float(f"{value:.9g}")
