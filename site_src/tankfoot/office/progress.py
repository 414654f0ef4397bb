"""How far long work is, for whoever waits at a terminal: one line, written again and again, and gone at the end."""

import sys
import time
from contextlib import contextmanager

from tankfoot.wording import words

AFTER, EVERY = 1.0, 0.2  # s: short work says nothing, and no terminal is written to more often


@contextmanager
def progress():
    """What is told how much of how much is done, in bytes; silent where nobody looks."""
    line = _Line()
    try:
        yield line.tell if sys.stderr.isatty() else _silent
    finally:
        line.clear()


def _silent(done, size):
    """Nobody looks."""


class _Line:
    def __init__(self):
        self.next, self.width = time.monotonic() + AFTER, 0

    def tell(self, done, size):
        if time.monotonic() >= self.next:
            self.next = time.monotonic() + EVERY
            self._write(words("command")["reading"].format(done=_megabytes(done), size=_megabytes(size)))

    def clear(self):
        if self.width:
            self._write("")
            print(end="\r", file=sys.stderr, flush=True)

    def _write(self, text):
        print(f"\r{text.ljust(self.width)}", end="", file=sys.stderr, flush=True)
        self.width = len(text)


def _megabytes(size):
    return f"{size / 1e6:.0f}"
