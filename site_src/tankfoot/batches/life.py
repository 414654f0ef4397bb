"""Which batch is in a tank, since when, how much beer, and what has happened to it there."""

import math
from bisect import bisect_right

from tankfoot.batches.rules import events as kinds
from tankfoot.quantities.text import read_quantity
from tankfoot.quantities.units import offered


def in_order(events):
    """``events``, entries of kind "batch-event", as they happened; of one instant by their ids."""
    return sorted(events, key=lambda event: (event["body"]["at"], event["id"]))


def life_in(events):
    """What a tank holds after all of its ``events``: a dict of ``batch`` (its id), ``since`` (an instant), ``events``.

    Where it was emptied and not filled since, ``batch`` is None; where nobody ever said what is in it, so is ``since``.
    ``events`` are those of this stay. A batch that is filled up, brew by brew, is one stay; another batch on top of it
    is a new one.

    >>> def event(name, at, batch="a"):
    ...     return {"id": at, "body": {"event": name, "at": at, "batch": batch}}
    >>> life_in([event("filled", "2026-03-01"), event("cooled", "2026-03-09")])["since"]
    '2026-03-01'
    >>> life_in([event("filled", "2026-03-01"), event("emptied", "2026-03-20")])
    {'batch': None, 'since': '2026-03-20', 'events': []}
    """
    life = {"batch": None, "since": None, "events": []}
    for event in in_order(events):
        body = event["body"]
        if kinds()[body["event"]]["fills"] and body["batch"] != life["batch"]:
            life = {"batch": body["batch"], "since": body["at"], "events": []}
        if kinds()[body["event"]]["empties"] and body["batch"] == life["batch"]:
            life = {"batch": None, "since": body["at"], "events": []}
        elif life["batch"] is not None and body["batch"] == life["batch"]:
            life["events"].append(event)
    return life


def batch_at(events, instant):
    """The id of the batch that a tank held at an ``instant``, by its ``events``; None where it held none.

    >>> def event(name, at):
    ...     return {"id": at, "body": {"event": name, "at": at, "batch": "a"}}
    >>> story = [event("filled", "2026-03-01"), event("moved-out", "2026-03-20")]
    >>> batch_at(story, "2026-03-10"), batch_at(story, "2026-03-20"), batch_at(story, "2026-02-01")
    ('a', None, None)
    """
    return batch_in(changes_of(events), instant)


def changes_of(events):
    """[[instant, the id of the batch that a tank holds from then on, None of none]] by all of its ``events``."""
    held, changes = None, []
    for event in in_order(events):
        kind, batch = kinds()[event["body"]["event"]], event["body"]["batch"]
        held = batch if kind["fills"] else held
        held = None if kind["empties"] and batch == held else held
        changes.append([event["body"]["at"], held])
    return changes


def batch_in(changes, instant):
    """The same from what ``changes_of`` made of a tank's events: for years of purges, one after the other."""
    place = bisect_right(changes, instant, key=lambda change: change[0])
    return changes[place - 1][1] if place else None


def beer_in(events, losses, system):
    """The beer that follows from the ``events`` of a stay and what its purges lost: a dict, None where no filling says.

    ``value`` and ``uncertainty`` in m3: the ± of what was typed, by squares. ``unknown``: of how many of these nobody
    said how much it was. ``losses``: amounts ({"value", "uncertainty"}, m3), None of a purge that told none. A bare
    number is in the units of ``system``.

    >>> def event(name, amount):
    ...     return {"body": {"event": name, "amount": amount}}
    >>> beer_in([event("filled", "10 hL ± 30 L"), event("harvested", "40 L")],
    ...         [{"value": 0.01, "uncertainty": 0.04}, None], "metric")
    {'value': 0.95, 'uncertainty': 0.05, 'unknown': 1}
    """
    moved = [_moved(event["body"], system) for event in events if kinds()[event["body"]["event"]]["sign"]]
    moved += [None if loss is None else (-loss["value"], loss["uncertainty"]) for loss in losses]
    known = [amount for amount in moved if amount is not None]
    if not any(value > 0.0 for value, _ in known):
        return None
    uncertainty = math.sqrt(sum((spread or 0.0) * (spread or 0.0) for _, spread in known))
    value = max(0.0, sum(value for value, _ in known))
    return {"value": value, "uncertainty": uncertainty, "unknown": len(moved) - len(known)}


def _moved(body, system):
    if body["amount"] is None:
        return None
    kind = kinds()[body["event"]]
    reading = read_quantity(body["amount"], kind["amount"], offered(kind["amount"], system)[0])
    return kind["sign"] * reading.si, reading.uncertainty


RANGES = {
    "in_order": ["events of a tank"],
    "life_in": ["events of a tank"],
    "changes_of": ["events of a tank"],
    "batch_in": "changes of a tank and an instant",
    "batch_at": ["events of a tank", "instant of a month"],
    "beer_in": ["events of a tank", "losses", "system"],
}
