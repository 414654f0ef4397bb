"""Export files for tests: the kept ones, sealed by an outside library, and what can be done to spoil one."""

import copy
import hashlib
import json
from pathlib import Path

import rfc8785

FIXTURES = Path(__file__).parent / "fixtures"
VERSION_1 = FIXTURES / "record-v1.json"
VERSION_2 = FIXTURES / "record-v2.json"
VERSION_3 = FIXTURES / "record-v3.json"
VERSION_4 = FIXTURES / "record-v4.json"
VERSION_5 = FIXTURES / "record-v5.json"
VERSION_6 = FIXTURES / "record-v6.json"
CURRENT = FIXTURES / "record-v7.json"
STRANGE = (
    None, True, False, 0, 1, -1, 0.5, 1e-7, 1e21, 1e300, -1e300, "", " ", "x", "tank", "é😀", "x" * 41,
    "x" * 5000, "2026-02-30T06:00:00.000Z", "2026-02-28T24:00:00.000Z", "2026-02-28T06:00:60.000Z",
    "2026-02-28T06:00:00Z", "2026-02-28", "1969-12-31T23:59:59.999Z", "0b0a3c9e-5b1d-4c1e-9f3a-2d1f6a7b8c9d",
    "constructor", "=1+1", [], [None], [[]],
    {}, {"value": 1}, {"__proto__": 1}, {"value": -1, "uncertainty": -1},
)
NAMES = ("note", "__proto__", "constructor", "length", "value", "toString", "body", "_schema", "0", "")


def version_1():
    """A file with every kind of entry, as it was written in schema version 1."""
    return json.loads(VERSION_1.read_text(encoding="utf-8"))


def version_2():
    """A file as it was written in schema version 2."""
    return json.loads(VERSION_2.read_text(encoding="utf-8"))


def version_3():
    """A file as it was written in schema version 3."""
    return json.loads(VERSION_3.read_text(encoding="utf-8"))


def version_4():
    """A file as it was written in schema version 4."""
    return json.loads(VERSION_4.read_text(encoding="utf-8"))


def version_5():
    """A file as it was written in schema version 5."""
    return json.loads(VERSION_5.read_text(encoding="utf-8"))


def version_6():
    """A file as it was written in schema version 6."""
    return json.loads(VERSION_6.read_text(encoding="utf-8"))


def current():
    """A file with every kind of entry, as it is written today."""
    return json.loads(CURRENT.read_text(encoding="utf-8"))


def sealed(data):
    """``data`` with the count and the sum that fit its entries."""
    digest = hashlib.sha256(rfc8785.dumps(data["entries"])).hexdigest()
    return data | {"count": len(data["entries"]), "sha256": digest}


def entry_changed(place, **members):
    """The text of a sealed file whose entry at ``place`` has other ``members``."""
    data = current()
    data["entries"][place] |= members
    return json.dumps(sealed(data))


def spoilt(rng, data, times):
    """A copy of ``data`` with ``times`` random changes somewhere in its entries."""
    data = copy.deepcopy(data)
    for _ in range(times):
        places = [place for place in _places(data["entries"]) if place]
        if places:
            _change(rng, *rng.choice(places))
    return data


def _places(value):
    """(container, key) of everything inside ``value``."""
    keys = value.keys() if isinstance(value, dict) else range(len(value)) if isinstance(value, list) else ()
    for key in keys:
        yield value, key
        yield from _places(value[key])


def _change(rng, container, key):
    change = rng.randrange(5)
    if change == 0:
        del container[key]
    elif change == 1 and isinstance(container, dict):
        container[rng.choice(NAMES)] = copy.deepcopy(rng.choice(STRANGE))
    elif change == 2 and isinstance(container, list):
        container.append(copy.deepcopy(container[key]))
    else:
        container[key] = copy.deepcopy(rng.choice(STRANGE))


def torn(rng, text):
    """``text`` cut, or with a few characters in wrong places."""
    if rng.random() < 0.3:
        return text[: rng.randrange(len(text))]
    letters = list(text)
    for _ in range(rng.randint(1, 4)):
        letters[rng.randrange(len(letters))] = rng.choice('{}[]",:0e9-\\nN \u2028é')
    return "".join(letters)
