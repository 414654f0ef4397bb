"""What the record may hold: schemas for the export file and its entries, and what is wrong with one."""

from dataclasses import dataclass, field

from tankfoot.record.bodies import BODIES
from tankfoot.record.canonical import utf16
from tankfoot.record.members import anything, flag, hexadecimal, instant, many, one_of, text, uuid
from tankfoot.record.plain import plain_entry
from tankfoot.record.strict import Shape, Value
from tankfoot.record.surely import SCALARS, surely_entry

FORMAT = "tankfoot-record"
SCHEMA_VERSION = 7


class Past(Shape):
    edited = instant()
    body = anything()


class Entry(Shape):
    id = uuid()
    kind = one_of(*BODIES)
    created = instant()
    edited = instant()
    deleted = flag()
    demo = flag()
    body = anything()
    history = many("past", Past, 1000)


class ExportFile(Shape):
    format = one_of(FORMAT)
    schema_version = Value(
        "whole", {"number": str(SCHEMA_VERSION)}, type="integer", enum=[*range(1, SCHEMA_VERSION + 1)]
    )
    app_version = text(40, least=1)
    made = instant()
    count = Value("count", type="integer", minimum=0)
    sha256 = hexadecimal(64)
    entries = Value("list", type="array")


@dataclass(frozen=True)
class Problem:
    """What is wrong: ``where`` (a path, "" for the whole file), a ``code`` and its facts, in which entry (``id``)."""

    where: str
    code: str
    facts: dict = field(default_factory=dict)
    id: str | None = None


def check_shape(shape, value, where=""):
    """The Problems of ``value`` as a ``shape``, none of an empty list, in the order of their places."""
    found = (Problem(path, code, facts) for path, (code, facts) in _flat(shape.validate(value), where))
    return sorted(found, key=lambda problem: utf16(problem.where))


def check_entry(entry, where=""):
    """The Problems of one ``entry``, which may be any JSON value.

    The body of a deleted entry is not looked at: what was deleted may leave nothing behind.

    >>> check_entry({"id": 7})[0]
    Problem(where='body', code='missing', facts={'what': 'object'}, id=None)
    """
    return [] if is_surely_right(entry) else told_problems(entry, where)


def told_problems(entry, where):
    """The same, without a quick yes before it."""
    found = check_shape(ENTRY, entry, where)
    if found or entry["deleted"]:
        return found
    pasts = [(f"history[{place}].body", past["body"]) for place, past in enumerate(entry["history"])]
    bodies, shape = [("body", entry["body"]), *pasts], BODIES[entry["kind"]]
    return [problem for path, body in bodies for problem in check_shape(shape, body, _step(where, path))]


def is_surely_right(entry, unknown=SCALARS):
    """Whether a quick look finds an ``entry``, any JSON value, right in its shape: surely.py.

    It looks at nothing that was deleted. What it finds right is no deeper than the shape; ``unknown``: the types of
    what a member may be that the shape does not know.
    """
    kind = entry.get("kind") if type(entry) is dict else None
    if not isinstance(kind, str) or kind not in BODIES or entry.get("deleted") is not False:
        return False
    return surely_entry(ENTRY, unknown)[kind](entry)


def has_plain_numbers(entry):
    """Whether all numbers of an ``entry`` that is surely right are plain; then it makes floats of them: plain.py."""
    are_plain = plain_entry(ENTRY)[entry["kind"]]
    return are_plain is None or are_plain(entry)


ENTRY = Entry()
EXPORT_FILE = ExportFile()


def _flat(messages, where):
    """Pairs of a path and (code, facts) from marshmallow's nested messages."""
    if isinstance(messages, list):
        yield from ((where, message) for message in messages)
        return
    for key, inner in messages.items():
        yield from _flat(inner, where if key == "_schema" else _step(where, key))


def _step(where, key):
    if key.startswith((".", "[")):
        return where + key
    return f"{where}.{key}" if where else key


RANGES = {
    "check_shape": "shape",
    "check_entry": ["spoilt entry", ["", "entries[3]"]],
}
