"""Entries that are right in shape and, now and then, in nothing else: for what a purge and a tank must mean."""

import copy

from cases import ODD_TEXTS
from records import current
from tankfoot.purge.machine import sums, tables
from tankfoot.quantities.propagate import within_reach
from tankfoot.tanks.meaning import ROUNDING
from tankfoot.tanks.shape import tank_shape

NAMES = ("choose", "saved", "nowhere", "constructor", "1", "2-gas-first", "to-string", "value-of")
READINGS = (*sums()["readings"], "constructor", "__proto__", "toString", "another")
TEXTS = (
    *ODD_TEXTS, "", " ", "10", "0", "10 psi", "1e9 psi", "1e300", "-1e12", "1000000000001", "5 gal/min", "3 bbl ± 5 %",
    "7 ± 1e300 °F", "36 °F", "60 s", "x" * 64,
)
STACKS = (
    None, [], ["hose"], ["clamp"], ["clamp", "butterfly", "clamp", "hose"], ["butterfly", "hose"],
    ["diaphragm", "clamp", "hose"], ["clamp", "butterfly", "clamp", "cap", "hose"], ["butterfly", "clamp"],
)
MEASURES = {
    "diameter": (5e-324, 1e-160, 0.2, 1.2, 20.0), "straight_height": (0.0, 1.5, 100000.0),
    "cone_angle": (5e-324, 1e-300, 1.2, 3.141592653589793), "head_depth": (0.0, 5e-324, 0.2, 10.0),
    "head_volume": (None, 0.0, 2000.0), "beer_volume": (0.0, 1.7, 2.66, 2.7, 90.0, 20000.0), "stack": STACKS,
}


def purge_of_the_record(rng):
    """A purge's body that is right in its shape."""
    body = copy.deepcopy(rng.choice(_bodies("purge")))
    states = list(tables()[rng.choice(list(tables()))])
    for _ in range(rng.randint(0, 3)):
        body |= rng.choice((
            {"state": rng.choice((*states, *NAMES))}, {"table": rng.choice((*tables(), *NAMES))}, {"events": []},
            {"events": rng.sample(body["events"], rng.randint(0, len(body["events"])))},
            {"readings": body["readings"] | {rng.choice(READINGS): rng.choice(TEXTS)[:64]}},
            {"readings": body["readings"] | {"contact_time": rng.choice(("1e12 s", "1.5e12 s", "-2e12 s"))}},
        ))
    return body


def tank_of_the_record(rng):
    """A tank's body that is right in its shape."""
    body = copy.deepcopy(rng.choice(_bodies("tank")))
    for _ in range(rng.randint(0, 3)):
        name = rng.choice(list(MEASURES))
        body[name] = rng.choice(MEASURES[name])
    shape = within_reach(tank_shape, body)
    if shape and rng.random() < 0.3:
        body["beer_volume"] = shape["total"] * rng.choice((1.0, 1.005, ROUNDING, 1.0101, 1.015))
    return body


def entry_of_any_meaning(rng):
    """An entry that is right in its shape, but for a few."""
    drawn_kinds = {"purge": purge_of_the_record, "tank": tank_of_the_record}
    entries = current()["entries"]
    meant = [entry for entry in entries if entry["kind"] in drawn_kinds]
    entry = copy.deepcopy(rng.choice(rng.choice((entries, meant))))
    drawn = drawn_kinds.get(entry["kind"])
    if drawn:
        entry["body"] = drawn(rng)
    changes = ({}, {}, {}, {}, {"deleted": True}, {"deleted": True, "body": {}}, {"body": {}}, {"kind": "constructor"})
    return entry | rng.choice(changes)


def _bodies(kind):
    return [entry["body"] for entry in current()["entries"] if entry["kind"] == kind]


DRAWN = {
    "purge of the record": purge_of_the_record,
    "tank of the record": tank_of_the_record,
    "entry of any meaning": entry_of_any_meaning,
}
