"""One file made of many, so that a first visit waits for one answer and not for seventy.

A line of JSON has the address, type and length of each file; then come the files themselves, one after the other. Most
lines of a page stand in others too, further back than the 32 kB that gzip looks: lines that came before are written as
one, with the number of the first of them and how many they are. All of it is one gzip member. What the first page asks
for itself stays out: the browser has it when the pack is fetched.
"""

import gzip
import json
import re

PACK = "tankfoot.pack"  # no .gz: a host that knows the ending would unpack it on the way
OF_A_PAGE = re.compile(r'<script [^>]*?src="([^"]+)"|<link rel="stylesheet" [^>]*?href="([^"]+)"')
LINE = re.compile(rb"[^\n]*\n|[^\n]+")
AGAIN = b"\x01"  # begins a line that stands for those that came before; no text has it
OS, UNKNOWN = 9, b"\xff"  # a byte of a gzip member's head
WORTH = 32  # bytes: fewer take no more room as they are
PNG = "image/png"  # has no lines
TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".png": PNG,
    ".svg": "image/svg+xml",
    ".webmanifest": "application/manifest+json",
}


def packed(files):
    """The bytes of a pack of ``files``, {address: path}: the same files give the same bytes."""
    lines, head, texts = Lines(), [], []
    for address in sorted(files, key=lambda address: (files[address].suffix, address)):
        type, data = _type(files[address]), files[address].read_bytes()
        texts.append(data if type == PNG else b"".join(lines.folded(data)))
        head.append([address, type, len(texts[-1])])
    return gzipped(json.dumps(head, separators=(",", ":")).encode() + b"\n" + b"".join(texts))


class Lines:
    """All lines that came so far, and where in them each one stands."""

    def __init__(self):
        self._all, self._places = [], {}

    def folded(self, data):
        """The lines of ``data``, those that came before as one; then they have come too."""
        lines, found = LINE.findall(data), []
        at = 0
        while at < len(lines):
            runs = [(first, self._alike(lines, at, first)) for first in self._places.get(lines[at], [])]
            first, count = max(runs, key=lambda run: run[1], default=(0, 0))
            is_worth = sum(map(len, lines[at : at + count])) >= WORTH
            found.append(AGAIN + b"%d,%d\n" % (first, count) if is_worth else lines[at])
            at += count if is_worth else 1
        for line in lines:
            self._places.setdefault(line, []).append(len(self._all))
            self._all.append(line)
        return found

    def _alike(self, lines, at, first):
        """How many of ``lines`` from ``at`` on are those that came from ``first`` on."""
        count = 0
        while [] != lines[at + count : at + count + 1] == self._all[first + count : first + count + 1]:
            count += 1
        return count


def gzipped(data):
    """``data`` as a gzip member that tells neither when nor on which system it was made. Source: RFC 1952, 2.3."""
    member = gzip.compress(data, 9, mtime=0)
    return member[:OS] + UNKNOWN + member[OS + 1 :]


def asked_at_first(root):
    """The paths of the scripts and style sheets that the first page of the site in ``root`` asks for itself."""
    page = root / "index.html"
    found = OF_A_PAGE.findall(page.read_text(encoding="utf-8"))
    return {(page.parent / (script or sheet)).resolve() for script, sheet in found}


def _type(path):
    if path.suffix not in TYPES:
        raise ValueError(f"{path}: write in pack.py which type a file that ends in {path.suffix!r} has")
    return TYPES[path.suffix]
