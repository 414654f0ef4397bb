"""The law of merge.py for records too large to hold: of each entry what the law asks, and a number that stands for it.

The newest ``edited`` wins; at the same instant the entry with the greater canonical text. So any order of files gives
the same. Texts are not kept, only their sums: where two differ at the same instant, the files are read once more.
"""

from array import array
from dataclasses import dataclass
from functools import partial
from hashlib import blake2b
from itertools import groupby

from tankfoot.office.columns import Ids, number_of_id, number_of_instant
from tankfoot.office.streamed import read_files
from tankfoot.record.canonical import utf16

FIXED = 8  # bytes of a sum: it only tells two texts of one entry and instant apart
FIRST_BYTE = 56  # bits behind it, in the first half of an id


@dataclass(frozen=True)
class Identities:
    """Who the entries of a part of a file are, in their order: ids, when they were edited, the sums of their texts."""

    ids: Ids
    edited: array
    sums: array


class Identifying:
    """Makes Identities of the entries that are added, one after the other."""

    def __init__(self):
        self.made = Identities(Ids(), array("q"), array("Q"))

    def add(self, entry, text):
        self.made.ids.append(entry["id"])
        self.made.edited.append(number_of_instant(entry["edited"]))
        self.made.sums.append(_sum(text))


def _sum(text):
    return int.from_bytes(blake2b(text.encode("utf-8", "surrogatepass"), digest_size=FIXED).digest())


class Latest:
    """The entries that count, by files that are told in any order."""

    def __init__(self):
        self._ids, self._edited, self._sums = Ids(), array("q"), array("Q")
        self._numbers, self._files = array("q"), array("l")

    def add(self, identities, numbers, file):
        """``numbers``: one for each that stands for it; ``file``: the place of their file among all."""
        self._ids.extend(identities.ids)
        self._edited.extend(identities.edited)
        self._sums.extend(identities.sums)
        self._numbers.extend(numbers)
        self._files.extend(array("l", [file]) * len(numbers))

    def numbers(self, paths):
        """The number of each entry that counts, in the order of the ids. ``paths``: the files, by their places."""
        counting, tied = array("q"), {}
        for _, places in groupby(self._in_order(), self._ids.number):
            newest = self._newest([*places])
            if len({self._sums[place] for place in newest}) > 1:
                tied[len(counting)] = newest
            counting.append(self._numbers[newest[0]])
        for at, place in self._settled(tied, paths):
            counting[at] = self._numbers[place]
        return counting

    def _in_order(self):
        """The places of all ids in their order: those with one first byte at a time, or all keys would be there."""
        by_byte = [array("q") for _ in range(256)]
        for place, half in enumerate(self._ids.high):
            by_byte[half >> FIRST_BYTE].append(place)
        for places in by_byte:
            yield from sorted(places, key=self._ids.number)

    def _newest(self, places):
        if len(places) == 1:
            return places
        edited = max(map(self._edited.__getitem__, places))
        return [place for place in places if self._edited[place] == edited]

    def _settled(self, tied, paths):
        """Pairs of a key of ``tied`` and the place that counts: that of the greater text, read once more."""
        ids = {at: self._ids.number(places[0]) for at, places in tied.items()}
        files = sorted({self._files[place] for places in tied.values() for place in places})
        texts = {}
        for read in read_files([paths[file] for file in files], partial(_texts_of, frozenset(ids.values()))):
            for id, text in (found for part in read.gathered for found in part):
                texts[id, _sum(text)] = text
        for at, places in tied.items():
            yield at, max(places, key=lambda place: utf16(texts[ids[at], self._sums[place]]))


def _texts_of(ids, entries):
    found = ((number_of_id(entry["id"]), text) for entry, text in entries)
    return [(id, text) for id, text in found if id in ids]
