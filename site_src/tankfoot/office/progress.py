"""How far long work is, for whoever waits at a terminal: one line, written again and again, and gone at the end."""

import sys
import time
from contextlib import contextmanager

from tankfoot.wording import words

AFTER, EVERY = 1.0, 0.2  # s: short work says nothing, and no terminal is written to more often
WIDE = 20  # signs of the bar


@contextmanager
def progress(work):
    """What is told how much of how much of a ``work`` is done, one of the words; silent where nobody looks."""
    line = _Line(words("command")["progress"][work])
    try:
        yield line.tell if sys.stderr.isatty() else silent
    finally:
        line.clear()


def silent(done, size):
    """Nobody looks."""


def megabytes(tell):
    """The same ``tell``, which is told in bytes and says megabytes."""
    return lambda done, size: tell(done / 1e6, size / 1e6)


class _Line:
    def __init__(self, says):
        self.says, self.next, self.width = says, time.monotonic() + AFTER, 0

    def tell(self, done, size):
        if time.monotonic() >= self.next:
            self.next = time.monotonic() + EVERY
            bar = "#" * int(WIDE * done / size) if size else ""
            self._write(self.says.format(bar=f"[{bar.ljust(WIDE)}]", done=f"{done:.0f}", size=f"{size:.0f}"))

    def clear(self):
        if self.width:
            self._write("")
            print(end="\r", file=sys.stderr, flush=True)

    def _write(self, text):
        print(f"\r{text.ljust(self.width)}", end="", file=sys.stderr, flush=True)
        self.width = len(text)
