"""An export file as export_file lays it out, read line by line: what is plainly right, quickly, and nothing else.

A line is an entry's canonical text, so the sum of a file is taken over its lines as they stand. Whatever leaves a
doubt, in the file or in an entry, raises Doubt: then transfer.py reads the whole of it, and its verdict counts.
"""

import json
from collections import Counter
from dataclasses import dataclass
from hashlib import sha256
from itertools import pairwise

from tankfoot.office.entry_check import entry_problems, meaning_problems
from tankfoot.office.transfer import LARGEST, Refused, head_of
from tankfoot.record.canonical import DEEPEST, NotCanonical, canonical, number
from tankfoot.record.entry import is_surely_right
from tankfoot.record.migrate import migrated

LONGEST_HEAD = 10_000  # bytes
BEGIN, END, BETWEEN = b'"entries":[\n', b"\n]}\n", b",\n"
PLAIN_DIGITS = 15  # of a whole number that Python and ECMAScript write alike
AT_ONCE = 1_000_000  # bytes


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
    reader = _Reader()
    for line in lines:
        try:
            text = line.decode()
            read, is_canonical = reader.read(text)
            entry = migrated(read, version)
            is_right = is_surely_right(entry)
            if not (is_right and is_canonical) and canonical(read, DEEPEST - 1) != text:
                raise Doubt
        except (ValueError, RecursionError, NotCanonical) as wrong:
            raise Doubt from wrong
        if meaning_problems(entry) if is_right else entry_problems(entry):
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


_encode = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode
_decode = json.JSONDecoder(parse_int=float, parse_constant=_none_such).decode


class _Reader:
    """Reads JSON, and tells whether it is surely canonical: Python's own writer is quick, but writes some numbers in
    another way than ECMAScript. Their texts are noted while they are read.
    """

    def __init__(self):
        self.decode = json.JSONDecoder(
            parse_float=self._broken, parse_int=self._whole, parse_constant=_none_such,
        ).decode
        self.odd, self.has_whole = [], False

    def read(self, text):
        """(The value of a ``text``, every number a float; whether the text is surely canonical)."""
        self.odd, self.has_whole = [], False
        value = self.decode(text)
        is_canonical = _is_sorted_alike(text) and _encode(value) == _as_python(text, self.odd)
        return _decode(text) if self.has_whole else value, is_canonical

    def _broken(self, text):
        value = float(text)
        if repr(value) != text or "e" in text or text.endswith(".0"):
            self.odd.append(text)
        return value

    def _whole(self, text):
        self.has_whole = True
        if len(text) <= PLAIN_DIGITS:
            return int(text)
        self.odd.append(text)
        return float(text)


def _is_sorted_alike(text):
    """Whether Python and ECMAScript sort the keys of a ``text`` alike: all its letters are one UTF-16 unit long."""
    return text.isascii() or len(text.encode("utf-16-le")) == 2 * len(text)


def _as_python(text, odd):
    """A ``text`` with its ``odd`` numbers as Python writes them, None where that cannot be told without reading it."""
    for token, count in Counter(odd).items():
        value = float(token)
        if number(value) != token or text.count(token) != count:
            return None
        text = text.replace(token, repr(value))
    return text
