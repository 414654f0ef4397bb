"""The export file: made from entries, and read as something nobody vouches for."""

import json
import re
from dataclasses import dataclass, field, replace
from hashlib import sha256

from tankfoot.office.entry_check import entry_problems
from tankfoot.record.canonical import DEEPEST, NotCanonical, canonical, digest
from tankfoot.record.entry import EXPORT_FILE, FORMAT, SCHEMA_VERSION, Problem, check_shape
from tankfoot.record.migrate import migrated

LARGEST = 200_000_000  # bytes of a file that is read
PART = 50_000_000  # bytes of a file that is written: a larger record goes out in several, so that a phone reads each
BRACKETS = re.compile(r'\\.|["\[\]{}]', re.DOTALL)  # and escapes, of which a quote does not end a text


@dataclass(frozen=True)
class Contents:
    """What a file holds: the ``entries`` that are right, the ``problems`` of all others or of the file.

    ``made``: the instant at which the file was written, None where it cannot be read.
    """

    entries: list[dict] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    made: str | None = None


class Refused(Exception):
    """A file of which nothing can be used. ``problems`` say why."""

    def __init__(self, problems):
        super().__init__(*(problem.code for problem in problems))
        self.problems = problems


def export_file(entries, app_version, made):
    """The text of an export file, ``made`` an instant; one entry a line, in the order they were created."""
    texts = [canonical(entry, DEEPEST - 1) for entry in sorted(entries, key=_order)]
    return laid_out(texts, app_version, made)


def laid_out(texts, app_version, made):
    """The same of the canonical ``texts`` of entries, in the order they were created."""
    head = {
        "format": FORMAT, "schema_version": SCHEMA_VERSION, "app_version": app_version, "made": made,
        "count": len(texts), "sha256": sha256(f"[{','.join(texts)}]".encode()).hexdigest(),
    }
    members = "".join(f"{canonical(key)}:{canonical(value)},\n" for key, value in head.items())
    return "{" + members + '"entries":[\n' + ",\n".join(texts) + "\n]}\n"


def in_parts(sizes, largest=PART):
    """``sizes`` of texts as (start, stop) of those that together make at most ``largest``, one text at least.

    >>> in_parts([40, 30, 80, 10], 70), in_parts([])
    ([(0, 2), (2, 3), (3, 4)], [(0, 0)])
    """
    starts, size = [0], 0
    for place, more in enumerate(sizes):
        if place > starts[-1] and size + more > largest:
            starts.append(place)
            size = 0
        size += more
    return list(zip(starts, [*starts[1:], len(sizes)], strict=True))


def _order(entry):
    return entry["created"], entry["id"]


def read_bytes(content):
    """The Contents of the ``content`` of a file, whatever these bytes are."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return Contents(problems=[Problem("", "not-utf8")])
    return read_file(text)


def read_file(text):
    """The Contents of an export file's ``text``, whatever that text is."""
    try:
        made, entries = _entries(text)
    except Refused as refused:
        return Contents(problems=refused.problems)
    twice = _twice(entries)
    right, problems = [], []
    for place, entry in enumerate(entries):
        found = _entry_problems(entry, f"entries[{place}]", twice)
        problems += found
        if not found:
            right.append(entry)
    return Contents(right, problems, made)


def head_of(text):
    """The members of a file's ``text``, right in their shapes; nobody has looked at the entries. Raises Refused."""
    data = _parsed(text)
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise _refused("not-ours", format=FORMAT)
    version = data.get("schema_version")
    if isinstance(version, float) and version > SCHEMA_VERSION:
        raise _refused("newer", ours=SCHEMA_VERSION)
    if problems := check_shape(EXPORT_FILE, data):
        raise Refused(problems)
    return data


def _entries(text):
    data = head_of(text)
    found = _digest(data["entries"])
    if data["count"] != len(data["entries"]):
        raise _refused("count", "count", found=len(data["entries"]))
    if data["sha256"] != found:
        raise _refused("sha256", "sha256", found=found)
    return data["made"], [migrated(entry, int(data["schema_version"])) for entry in data["entries"]]


def _parsed(text):
    """JSON with every number a float, as in JavaScript."""
    try:
        data = json.loads(text, parse_int=float, parse_constant=_no_such_number)
    except (ValueError, RecursionError) as wrong:
        # How deep a reader goes before it gives up is its own affair: the text tells, and the verdict is everyone's.
        deep = _levels(text) > DEEPEST + 1
        raise (_refused("too-deep", deepest=DEEPEST) if deep else _refused("not-json")) from wrong
    if not _fits(data, DEEPEST + 1):  # the file itself holds the entries, which have so many
        raise _refused("too-deep", deepest=DEEPEST)
    return data


def _levels(text):
    """How deep the brackets of a ``text`` that may be no JSON lie in one another."""
    depth, most, within = 0, 0, False
    for found in BRACKETS.finditer(text):
        if found[0] == '"':
            within = not within
        elif not within and found[0] in "[]{}":
            depth += 1 if found[0] in "[{" else -1
            most = max(most, depth)
    return most


def _fits(value, room):
    if not isinstance(value, dict | list):
        return True
    return room > 0 and all(_fits(inner, room - 1) for inner in (value.values() if isinstance(value, dict) else value))


def _no_such_number(name):
    raise ValueError(f"{name} is no JSON")


def _digest(entries):
    try:
        return digest(entries)
    except NotCanonical as wrong:
        raise _refused(wrong.code, deepest=DEEPEST) from wrong


def _refused(code, where="", **facts):
    return Refused([Problem(where, code, {name: str(fact) for name, fact in facts.items()})])


def _twice(entries):
    seen, twice = set(), set()
    for id in filter(None, map(_id, entries)):
        (twice if id in seen else seen).add(id)
    return twice


def _id(entry):
    id = entry.get("id") if isinstance(entry, dict) else None
    return id if isinstance(id, str) else None


def _entry_problems(entry, where, twice):
    found, id = entry_problems(entry, where), _id(entry)
    if id in twice:
        found.append(Problem(f"{where}.id", "twice"))
    return [replace(problem, id=id) for problem in found]


RANGES = {
    "export_file": ["checked entries", ["1.2.3"], ["2026-03-01T07:05:09.120Z"]],
    "read_file": ["file"],
}
