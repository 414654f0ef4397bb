"""Columns of a million values that take little room: ids and instants as numbers, given out as the texts they were."""

import math
from array import array
from collections.abc import Sequence

DIGITS = str.maketrans("", "", "-T:.Z")
HALF = (1 << 64) - 1


class Instants(Sequence):
    """Instants of the record; in their order, so are their numbers.

    >>> instants = Instants()
    >>> instants.append("2026-03-01T07:05:09.120Z")
    >>> instants.numbers[0], instants[0]
    (20260301070509120, '2026-03-01T07:05:09.120Z')
    """

    def __init__(self, numbers=()):
        self.numbers = array("q", numbers)

    def append(self, instant):
        self.numbers.append(number_of_instant(instant))

    def put(self, instants):
        self.numbers.extend(map(number_of_instant, instants))

    def extend(self, others):
        self.numbers.extend(others.numbers)

    def taken(self, rows):
        return Instants(map(self.numbers.__getitem__, rows))

    def __len__(self):
        return len(self.numbers)

    def __getitem__(self, row):
        return _instant(self.numbers[row])

    def __iter__(self):
        return map(_instant, self.numbers)


class Ids(Sequence):
    """Ids of entries.

    >>> ids = Ids()
    >>> ids.append("0b0a3c9e-5b1d-4c1e-9f3a-2d1f6a7b8c9d")
    >>> ids[0], len(ids)
    ('0b0a3c9e-5b1d-4c1e-9f3a-2d1f6a7b8c9d', 1)
    """

    def __init__(self, high=(), low=()):
        self.high, self.low = array("Q", high), array("Q", low)

    def append(self, id):
        number = number_of_id(id)
        self.high.append(number >> 64)
        self.low.append(number & HALF)

    def put(self, ids):
        for id in ids:
            self.append(id)

    def extend(self, others):
        self.high.extend(others.high)
        self.low.extend(others.low)

    def number(self, row):
        """The id as one number: in their order, so are the texts."""
        return self.high[row] << 64 | self.low[row]

    def taken(self, rows):
        return Ids(map(self.high.__getitem__, rows), map(self.low.__getitem__, rows))

    def __len__(self):
        return len(self.high)

    def __getitem__(self, row):
        return _id(self.high[row], self.low[row])

    def __iter__(self):
        return map(_id, self.high, self.low)


class Numbers(array):
    """Floats, NaN where a number was not told."""

    def __new__(cls, values=()):
        return super().__new__(cls, "d", values)

    def put(self, values):
        self.extend(math.nan if value is None else value for value in values)

    def taken(self, rows):
        return Numbers(map(self.__getitem__, rows))


def taken(column, rows):
    """Of a ``column`` of any kind what stands in ``rows``, a column of that kind."""
    return [column[row] for row in rows] if isinstance(column, list) else column.taken(rows)


def number_of_instant(instant):
    return int(instant.translate(DIGITS))


def number_of_id(id):
    return int(id.replace("-", ""), 16)


def _instant(number):
    text = str(number)
    return f"{text[:4]}-{text[4:6]}-{text[6:8]}T{text[8:10]}:{text[10:12]}:{text[12:14]}.{text[14:]}Z"


def _id(high, low):
    text = f"{high:016x}{low:016x}"
    return f"{text[:8]}-{text[8:12]}-{text[12:16]}-{text[16:20]}-{text[20:]}"
