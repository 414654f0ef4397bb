"""Entries and files drawn at random, for the twins of the rooms that know them."""

import json
import math
import random
import struct
from functools import cache

from both import Both
from cases import SEED
from drawn_meaning import entry_of_any_meaning
from records import STRANGE, current, sealed, spoilt, torn, version_1
from tankfoot.office.entry_check import entry_problems
from tankfoot.office.transfer import read_file
from tankfoot.quantities.units import SYSTEMS
from tankfoot.record.bodies import BODIES
from tankfoot.record.entry import ENTRY, EXPORT_FILE, check_shape

LONG = 10_000  # what has no smaller limit is not tried at it
LETTERS = ("a", "b", '"', "\\", "\n", "\u2028", "é", "\ue000", "😀", "\ud83d")


def edited_entries(rng):
    """Some entries, edited at one of two instants."""
    entries = rng.sample(current()["entries"], rng.randint(0, 8))
    for entry in entries:
        entry["edited"] = rng.choice(("2026-03-01T07:05:09.120Z", "2026-03-01T07:05:09.121Z"))
        entry["note"] = rng.choice(("a", "\ue000", "😀", 1e21, 5e-324, 100.0, -0.0, 0))
    return entries


def spoilt_entry(rng):
    """An entry, right or with something wrong in it, or anything else."""
    entries = spoilt(rng, current(), 0)["entries"]
    entries = spoilt(rng, {"entries": [rng.choice(entries)]}, rng.randint(0, 3))["entries"]
    return entries[0] if entries else rng.choice(STRANGE)


def shape(rng):
    """A shape, a value that may have it, and where that stands."""
    entry = spoilt_entry(rng)
    kind = rng.choice(list(BODIES))
    if isinstance(entry, dict) and entry.get("kind") in list(BODIES):
        kind = entry["kind"]
    inside = entry.get("body") if isinstance(entry, dict) else entry
    made, value = rng.choice(((ENTRY, entry), (BODIES[kind], inside), (EXPORT_FILE, file_as_json(rng))))
    if isinstance(value, dict) and rng.random() < 0.6:
        value = value | _on_a_limit(rng, made.described())
    return [Both(lambda told: made, made.described()), value, rng.choice(("", "entries[0].body"))]


def _on_a_limit(rng, described):
    """{name: value} of one member at the end of what it may be, or just beyond."""
    made = [(name, value) for name, inner in described["properties"].items() for value in _ends(inner)]
    return dict([rng.choice(made)]) if made else {}


def _ends(shape):
    for limit in ("minimum", "exclusiveMinimum", "maximum"):
        if limit in shape:
            yield from (shape[limit], math.nextafter(shape[limit], -math.inf), math.nextafter(shape[limit], math.inf))
    if shape.get("maxLength", LONG) < LONG:
        yield from (letter * (shape["maxLength"] + more) for letter in ("x", "😀") for more in (0, 1))
    if shape.get("maxItems", LONG) < LONG:
        yield from ([None] * (shape["maxItems"] + more) for more in (0, 1))
    if "format" in shape:
        yield from (text for text in STRANGE if isinstance(text, str) and text.startswith("2026"))


def some_entries(rng):
    """A file's members with a few of its entries."""
    data = current()
    return data | {"entries": rng.sample(data["entries"], rng.randint(0, 3))}


def file_as_json(rng):
    wrong = ({}, {"count": -1}, {"made": "yesterday"}, {"sha256": "F" * 64}, {"format": ""})
    return some_entries(rng) | rng.choice(wrong)


def file(rng):
    """The text of an export file: right, with entries spoilt or there twice, with another head, or torn."""
    if rng.random() < 0.2:
        return rng.choice(("null", "[]", "7", '"x"', "", "{}", torn(rng, json.dumps(sealed(some_entries(rng))))))
    data = spoilt(rng, some_entries(rng), rng.choice((0, 0, 1, 2, 3)))
    if rng.random() < 0.2:
        data["entries"] += data["entries"][:2]
    wrong = (
        {"schema_version": 3}, {"schema_version": 1}, {"schema_version": 1.5}, {"count": 3}, {"sha256": "0" * 64},
        {"format": 1},
    )
    return json.dumps(sealed(data) | rng.choice(({}, {}, {}, *wrong)))


@cache
def right_entries():
    """Entries that are right, many of them changed."""
    rng = random.Random(SEED)
    files = (json.dumps(sealed(spoilt(rng, current(), 3))) for _ in range(12))
    return [entry for file in files for entry in read_file(file).entries]


def checked_entries(rng):
    """Some entries that are right, no id twice, with several purges of two days among them."""
    taken = rng.sample(right_entries(), rng.randint(0, 12)) + [_moved(rng, entry) for entry in rng.sample(_purges(), 3)]
    return list({entry["id"]: entry for entry in taken}.values())


def _purges():
    return [entry for entry in right_entries() if entry["kind"] == "purge" and not entry["deleted"]]


def _moved(rng, entry):
    """The same purge under another id and on another day, at times without one of its events."""
    body = json.loads(json.dumps(entry["body"]).replace("-02T", f"-{rng.choice(('02', '05'))}T"))
    if rng.random() < 0.2:
        body["events"] = rng.sample(body["events"], len(body["events"]) - 1)
        body["events"].sort(key=lambda event: event["at"])
    return entry | {"id": f"{rng.randrange(10**8):08d}{entry['id'][8:]}", "body": body}


@cache
def some_problems():
    """What is wrong with some files and entries: one problem for each thing that may be said of one."""
    rng, found = random.Random(SEED), {}
    for _ in range(400):
        made, value, where = shape(rng)
        of_shapes = check_shape(made.for_python([]), value, where)
        of_meanings = entry_problems(entry_of_any_meaning(rng))
        for problem in [*read_file(file(rng)).problems, *of_shapes, *of_meanings]:
            found[problem.code, problem.facts.get("what"), problem.facts.get("null")] = problem
    return list(found.values())


def problem(rng):
    found = rng.choice(some_problems())
    return Both(lambda told: found, vars(found))


def problems(rng):
    found = rng.sample(some_problems(), rng.randint(0, 3))
    return Both(lambda told: found, [vars(each) for each in found])


def json_value(rng, room=3):
    """Any JSON value, of floats of any bits and texts of any characters."""
    if room and rng.random() < 0.5:
        inner = [json_value(rng, room - 1) for _ in range(rng.randint(0, 3))]
        return inner if rng.random() < 0.5 else {text(rng): value for value in inner}
    return rng.choice((None, True, False, text(rng), any_float(rng), rng.choice((1e21, 1e-7, -0.0, 100.0, 5e-324))))


def any_float(rng):
    (value,) = struct.unpack(">d", rng.randbytes(8))
    return value if abs(value) < float("inf") else 0.5


def text(rng):
    return "".join(rng.choices(LETTERS, k=rng.randint(0, 4)))


def deep(rng):
    """Lists in lists, as deep as they may be, or deeper."""
    made = json_value(rng)
    for _ in range(rng.choice((0, 0, 1, 4, 27, 28, 29, 31, 32))):
        made = rng.choice(([made], {"a": made}))
    return made


DRAWN = {
    "system": lambda rng: rng.choice(list(SYSTEMS)),
    "seed": lambda rng: f"{rng.randrange(10**6)}/gate-clamp/{rng.choice(LETTERS)}",
    "old entry": lambda rng: rng.choice((*spoilt(rng, version_1(), rng.randint(0, 4))["entries"], rng.choice(STRANGE))),
    "json": deep,
    "spoilt entry": spoilt_entry,
    "edited entries": edited_entries,
    "checked entries": checked_entries,
    "problems": problems,
    "problem of a file": problem,
    "what a value must be": lambda rng: rng.choice([each.facts for each in some_problems() if "what" in each.facts]),
    "file": file,
}
ARGUMENTS = {"shape": shape}
