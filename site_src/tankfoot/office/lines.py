"""An export file as export_file lays it out, read line by line: what is plainly right, quickly, and nothing else.

A line is an entry's canonical text, so the sum of a file is taken over its lines as they stand. Whatever leaves a
doubt, in the file or in an entry, raises Doubt: then transfer.py reads the whole of it, and its verdict counts.
"""

import json
from dataclasses import dataclass
from hashlib import sha256
from itertools import pairwise

import orjson

from tankfoot.office.entry_check import entry_problems, meaning_problems
from tankfoot.office.transfer import LARGEST, Refused, head_of
from tankfoot.record.canonical import DEEPEST, NotCanonical, canonical
from tankfoot.record.entry import has_plain_numbers, is_surely_right
from tankfoot.record.migrate import migrated

LONGEST_HEAD = 10_000  # bytes
BEGIN, END, BETWEEN = b'"entries":[\n', b"\n]}\n", b",\n"
AT_ONCE = 1_000_000  # bytes
NO_NUMBERS = (str, bool, type(None))  # of members that the shape does not know: it does not know how large they are
SORTED = orjson.OPT_SORT_KEYS


class Doubt(Exception):
    """Something is not plainly right."""


@dataclass(frozen=True)
class Layout:
    """Where the lines of a file stand: ``spans``, each from one byte to another, and what its head says of them."""

    version: int
    made: str
    count: int
    sha256: str
    spans: list[tuple[int, int]]


def layout(path, about):
    """The Layout of the file at ``path``, with spans of ``about`` so many bytes. Raises Doubt, OSError."""
    size = path.stat().st_size
    if size > LARGEST:
        raise Doubt
    with path.open("rb") as file:
        start = file.read(LONGEST_HEAD).find(BEGIN) + len(BEGIN)
        stop = size - len(END)
        if start < len(BEGIN) or stop <= start:
            raise Doubt
        file.seek(0)
        head = _head(file.read(start))
        file.seek(stop)
        if file.read() != END:
            raise Doubt
        places = [start]
        while places[-1] < stop:
            file.seek(places[-1] + about)
            file.readline()
            places.append(min(file.tell(), stop))
    spans = list(pairwise(places))
    return Layout(int(head["schema_version"]), head["made"], int(head["count"]), head["sha256"], spans)


def _head(content):
    try:
        return head_of(content.decode() + "]}")
    except (UnicodeDecodeError, Refused) as wrong:
        raise Doubt from wrong


def entries_in(path, span, version):
    """Pairs of an entry, right and as today's schema has it, and its canonical text, of a ``span`` of a file."""
    with path.open("rb") as file:
        file.seek(span[0])
        lines = file.read(span[1] - span[0]).removesuffix(BETWEEN).split(BETWEEN)
    for line in lines:
        yield _surely_right(line, version) or _right(line, version)


def _surely_right(line, version):
    """The same of a ``line`` that is surely canonical, and its entry right; None of any other."""
    try:
        entry, text = orjson.loads(line), line.decode()
    except ValueError:
        return None
    if migrated(entry, version) is not entry or not is_surely_right(entry, NO_NUMBERS):
        return None
    is_plain = orjson.dumps(entry, option=SORTED) == line and _is_sorted_alike(text) and has_plain_numbers(entry)
    return (entry, text) if is_plain and not meaning_problems(entry) else None


def _is_sorted_alike(text):
    """Whether keys are in the order of their letters as of their UTF-16 units, of which none has two here."""
    return text.isascii() or len(text.encode("utf-16-le")) == 2 * len(text)


def _right(line, version):
    """The same of any ``line``, by those who say what is wrong. Raises Doubt where something is."""
    try:
        text = line.decode()
        read = _decode(text)
        if canonical(read, DEEPEST - 1) != text:
            raise Doubt
        entry = migrated(read, version)
        if entry_problems(entry):
            raise Doubt
        return entry, text if entry is read else canonical(entry)
    except (ValueError, RecursionError, NotCanonical) as wrong:
        raise Doubt from wrong


def sum_of(path, spans):
    """The SHA-256 of the list of all entries in ``spans``, in hex, where their lines are canonical."""
    found = sha256(b"[")
    with path.open("rb") as file:
        file.seek(spans[0][0])
        left = spans[-1][1] - spans[0][0]
        while left:
            content = file.read(min(left, AT_ONCE))
            left -= len(content)
            found.update(content.replace(b"\n", b""))  # in a canonical text there is none
    found.update(b"]")
    return found.hexdigest()


def _none_such(name):
    raise Doubt(name)


_decode = json.JSONDecoder(parse_float=float, parse_int=float, parse_constant=_none_such).decode
