"""An export file as export_file lays it out, read line by line: what is plainly right, quickly, and nothing else.

A line is an entry's canonical text, so the sum of a file is taken over its lines as they stand. Whatever leaves a
doubt, in the file or in an entry, raises Doubt: then transfer.py reads the whole of it, and its verdict counts.
"""

import json
import re
from dataclasses import dataclass
from hashlib import sha256
from itertools import pairwise

from tankfoot.office.entry_check import entry_problems, meaning_problems
from tankfoot.office.transfer import LARGEST, Refused, head_of
from tankfoot.record.canonical import DEEPEST, NotCanonical, canonical, number
from tankfoot.record.entry import members_of
from tankfoot.record.migrate import migrated

LONGEST_HEAD = 10_000  # bytes
BEGIN, END, BETWEEN = b'"entries":[\n', b"\n]}\n", b",\n"
PLAIN_DIGITS = 15  # of a whole number that Python and ECMAScript write alike
AT_ONCE = 1_000_000  # bytes
SPACED = re.compile(rb" (?:(?=[{}\[\]:,])|(?<=[{}\[\]:,] ))")  # space beside a sign


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
        try:
            text = line.decode()
            read, has_plain_numbers = _read(text)
            entry = migrated(read, version)
            members = members_of(entry)
            if not (members and entry is read and has_plain_numbers and _is_canonical(line, text, members)):
                _check(read, text)
        except (ValueError, RecursionError, NotCanonical) as wrong:
            raise Doubt from wrong
        if meaning_problems(entry) if members else entry_problems(entry):
            raise Doubt
        yield entry, text if entry is read else canonical(entry)


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


def _read(text):
    """(The JSON value of a ``text``, every number a float; whether each is written as in a canonical text)."""
    _odd.clear()
    return _decode(text), not _odd


def _float(text):
    value = float(text)
    if repr(value) != text or "e" in text or text.endswith(".0"):
        _note_odd(value, text)
    return value


def _whole(text):
    value = float(text)
    if len(text) > PLAIN_DIGITS or text == "-0":
        _note_odd(value, text)
    return value


def _note_odd(value, text):
    if number(value) != text:
        _odd.append(text)


_odd = []
_decode = json.JSONDecoder(parse_float=_float, parse_int=_whole, parse_constant=_none_such).decode


def _is_canonical(line, text, members):
    """Whether a ``line``, as a ``text`` too, is surely canonical: JSON with plain numbers and ``members`` in order.

    Without a backslash each quote begins or ends a text, so that no fewer quotes have a colon behind them than there
    are members: where they are as many as were read, none was there twice. What else may differ is space beside a sign,
    a tab and a line break being in no text, and the order of keys with letters that are two UTF-16 units long.
    """
    if b"\\" in line or line.count(b'":') != members or b"\t" in line or b"\r" in line or b"\n" in line:
        return False
    if not line.isascii() and len(text.encode("utf-16-le")) != 2 * len(text):
        return False
    return line[:1] == b"{" and line[-1:] == b"}" and not SPACED.search(line)


def _check(read, text):
    if canonical(read, DEEPEST - 1) != text:
        raise Doubt
