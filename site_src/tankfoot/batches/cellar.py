"""The whole cellar out of a record: what each tank holds, what is due in it. A phone reads a tank at a time instead."""

import re
from collections import defaultdict
from dataclasses import dataclass

from tankfoot.batches.due import due_items, in_walking_order
from tankfoot.batches.life import life_in
from tankfoot.batches.rules import rules_of
from tankfoot.batches.stay import stay_of
from tankfoot.tanks.due import end_of
from tankfoot.tanks.hold import open_holds

DIGITS = re.compile(r"([0-9]+)")
HAPPENED = {  # when what an entry tells happened, of kinds that tell what happened
    "batch-event": lambda entry: entry["body"]["at"], "tank-reading": lambda entry: entry["body"]["at"],
    "purge": end_of, "postponement": lambda entry: entry["created"], "tank-hold": lambda entry: entry["created"],
}


@dataclass(frozen=True)
class Cellar:
    """``tanks``, entries in walking order; the ``stay`` in each, by its id; the ``rules``; ``beers``, by batch."""

    tanks: list[dict]
    stays: dict[str, dict]
    rules: list[dict]
    beers: dict[str, str]

    @property
    def names(self):
        """{id: name} of the tanks."""
        return {tank["id"]: tank["body"]["name"] for tank in self.tanks}

    def due(self, now, zone):
        """What is due in all tanks at the instant ``now``, in the order in which a hand walks."""
        items = [item for stay in self.stays.values() for item in due_items(stay, self.rules, now, zone)]
        return in_walking_order(items, [tank["id"] for tank in self.tanks])


def cellar_of(entries, demo=False):
    """The Cellar that the ``entries`` of a whole record tell of; invented ones count with ``demo`` alone."""
    kinds, of_tank, of_batch = defaultdict(list), defaultdict(list), defaultdict(list)
    for entry in entries:
        if not entry["deleted"] and (demo or not entry["demo"]):
            kind, body = entry["kind"], entry["body"]
            kinds[kind].append(entry)
            of_tank[kind, body.get("tank")].append(entry)
            if kind == "batch-event":
                of_batch[body["batch"]].append(entry)
    tanks = walking_order(kinds["tank"], kinds["walking-order"])
    stays = {tank["id"]: _stay(tank, of_tank, of_batch) for tank in tanks}
    beers = {batch["id"]: batch["body"]["beer"] for batch in kinds["batch"]}
    return Cellar(tanks, stays, rules_of(kinds["due-rule"]), beers)


def known_at(entries, instant):
    """``entries`` as they stood at an ``instant`` that is over: less what happened, or was lifted, only after it.

    >>> purge = {"kind": "purge", "deleted": False, "created": "2026-03-04", "body": {"events": []}}
    >>> len(known_at([purge], "2026-03-03")), len(known_at([purge], "2026-03-04"))
    (0, 1)
    """
    return [_unlifted(entry, instant) for entry in entries
            if entry["deleted"] or entry["kind"] not in HAPPENED or HAPPENED[entry["kind"]](entry) <= instant]


def walking_order(tanks, orders):
    """``tanks`` as the order among ``orders`` says that was edited last; those it does not name come last, by name.

    Names go as people count: FV 2 before FV 10.

    >>> tanks = [{"id": name, "body": {"name": name}} for name in ("FV 10", "BT 1", "FV 2")]
    >>> [tank["id"] for tank in walking_order(tanks, [{"id": "o", "edited": "1", "body": {"tanks": ["FV 10"]}}])]
    ['FV 10', 'BT 1', 'FV 2']
    """
    latest = max(orders, key=lambda order: (order["edited"], order["id"]), default=None)
    places = {tank: place for place, tank in enumerate(latest["body"]["tanks"])} if latest else {}
    by_name = sorted(tanks, key=lambda tank: (_counted(tank["body"]["name"]), tank["id"]))
    return sorted(by_name, key=lambda tank: places.get(tank["id"], len(places)))


def _counted(name):
    return [int(part) if part.isdecimal() else part for part in DIGITS.split(name.casefold())]


def _stay(tank, of_tank, of_batch):
    def told(kind):
        return of_tank[kind, tank["id"]]

    events = told("batch-event")
    life = life_in(events)
    since = life["since"] or ""  # what was done before says nothing of this stay, and years of it take time to sort
    return stay_of(tank, {
        "events": events, "elsewhere": of_batch[life["batch"]],
        "purges": [purge for purge in told("purge") if end_of(purge) >= since],
        "readings": [reading for reading in told("tank-reading") if reading["body"]["at"] >= since],
        "postponed": told("postponement"), "held": bool(open_holds(told("tank-hold"), tank["id"])),
    })


def _unlifted(entry, instant):
    if entry["kind"] != "tank-hold" or entry["deleted"] or (entry["body"]["lifted"] or "") <= instant:
        return entry
    return entry | {"body": entry["body"] | {"lifted": None}}
