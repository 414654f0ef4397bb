"""Texts by their numbers, in a file that nobody else sees: more of them than fit into memory."""

import tempfile
from array import array


class Spool:
    """Holds what is added until it is closed."""

    def __init__(self):
        self._file = tempfile.TemporaryFile()  # noqa: SIM115 - it is closed with the spool
        self._ends = array("q", [0])

    def __enter__(self):
        return self

    def __exit__(self, *wrong):
        self._file.close()

    def add(self, texts):
        """Adds ``texts``, bytes; their numbers."""
        first = len(self._ends) - 1
        self._file.seek(self._ends[-1])
        self._file.write(b"".join(texts))
        for text in texts:
            self._ends.append(self._ends[-1] + len(text))
        return range(first, len(self._ends) - 1)

    def size(self, number):
        return self._ends[number + 1] - self._ends[number]

    def __getitem__(self, number):
        self._file.seek(self._ends[number])
        return self._file.read(self.size(number))
