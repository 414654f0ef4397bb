"""The law of merge.py for records too large to hold: of each entry what the law asks, and a number that stands for it.

The newest ``edited`` wins; at the same instant the entry with the greater canonical text. So any order of files gives
the same. Texts are not kept, only their sums: where two differ at the same instant, the files are read once more.
"""

from array import array
from dataclasses import dataclass
from functools import partial
from hashlib import blake2b

from tankfoot.office.columns import number_of_id, number_of_instant
from tankfoot.office.streamed import read_files
from tankfoot.record.canonical import utf16

FIXED = 8  # bytes of a sum: it only tells two texts of one entry and instant apart


@dataclass(frozen=True)
class Identities:
    """Who the entries of a part of a file are, in their order: ids, when they were edited, the sums of their texts."""

    ids: list[int]
    edited: array
    sums: array


class Identifying:
    """Makes Identities of the entries that are added, one after the other."""

    def __init__(self):
        self.made = Identities([], array("q"), array("Q"))

    def add(self, entry, text):
        self.made.ids.append(number_of_id(entry["id"]))
        self.made.edited.append(number_of_instant(entry["edited"]))
        self.made.sums.append(_sum(text))


def _sum(text):
    return int.from_bytes(blake2b(text.encode("utf-8", "surrogatepass"), digest_size=FIXED).digest())


class Latest:
    """The entries that count, by files that are told in any order."""

    def __init__(self):
        self._places, self._tied = {}, {}
        self._edited, self._sums, self._numbers, self._files = array("q"), array("Q"), array("q"), array("l")

    def add(self, identities, numbers, file):
        """``numbers``: one for each that stands for it; ``file``: the place of their file among all."""
        told = zip(identities.ids, identities.edited, identities.sums, numbers, strict=True)
        for id, edited, summed, number in told:
            place = self._places.setdefault(id, len(self._numbers))
            if place == len(self._numbers):
                self._append(edited, summed, number, file)
            elif edited > self._edited[place]:
                self._tied.pop(place, None)
                self._set(place, edited, summed, number, file)
            elif edited == self._edited[place] and summed != self._sums[place]:
                first = self._sums[place], self._numbers[place], self._files[place]
                self._tied.setdefault(place, [first]).append((summed, number, file))

    def _append(self, *told):
        for column, value in zip((self._edited, self._sums, self._numbers, self._files), told, strict=True):
            column.append(value)

    def _set(self, place, *told):
        for column, value in zip((self._edited, self._sums, self._numbers, self._files), told, strict=True):
            column[place] = value

    def numbers(self, paths):
        """Pairs of the id and the number of each entry that counts. ``paths``: the files, by their places."""
        self._settle(paths)
        return zip(self._places, self._numbers, strict=True)

    def _settle(self, paths):
        """Reads again what two files tell otherwise at the same instant: the greater text counts."""
        files = sorted({file for tied in self._tied.values() for _, _, file in tied})
        ids = {place: id for id, place in self._places.items() if place in self._tied}
        texts = {}
        for read in read_files([paths[file] for file in files], partial(_texts_of, frozenset(ids.values()))):
            for id, text in (found for part in read.gathered for found in part):
                texts[id, _sum(text)] = text
        for place, tied in self._tied.items():
            _, number, file = max(tied, key=lambda each: utf16(texts[ids[place], each[0]]))
            self._numbers[place], self._files[place] = number, file
        self._tied = {}


def _texts_of(ids, entries):
    found = ((number_of_id(entry["id"]), text) for entry, text in entries)
    return [(id, text) for id, text in found if id in ids]
