"""One file made of many, so that a first visit waits for one answer and not for seventy.

A line of JSON has the address, type and length of each file; then come the files themselves, one after the other. All
of it is one gzip member. What the first page asks for itself stays out: the browser has it when the pack is fetched.
"""

import gzip
import json
import re

PACK = "tankfoot.pack"  # no .gz: a host that knows the ending would unpack it on the way
OF_A_PAGE = re.compile(r'<script [^>]*?src="([^"]+)"|<link rel="stylesheet" [^>]*?href="([^"]+)"')
TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".webmanifest": "application/manifest+json",
}


def packed(files):
    """The bytes of a pack of ``files``, {address: path}: the same files give the same bytes."""
    texts = {address: files[address].read_bytes() for address in _beside_their_like(files)}
    head = [[address, _type(files[address]), len(text)] for address, text in texts.items()]
    return gzipped(json.dumps(head, separators=(",", ":")).encode() + b"\n" + b"".join(texts.values()))


def gzipped(data):
    return gzip.compress(data, 9, mtime=0)


def asked_at_first(root):
    """The paths of the scripts and style sheets that the first page of the site in ``root`` asks for itself."""
    page = root / "index.html"
    found = OF_A_PAGE.findall(page.read_text(encoding="utf-8"))
    return {(page.parent / (script or sheet)).resolve() for script, sheet in found}


def _type(path):
    if path.suffix not in TYPES:
        raise ValueError(f"{path}: write in pack.py which type a file that ends in {path.suffix!r} has")
    return TYPES[path.suffix]


def _beside_their_like(files):
    """The addresses in an order in which a file follows the one that it shares most lines with.

    gzip looks back 32 kB, which is a page or two: in the order of their names the pages come out a tenth larger.
    """
    lines = {address: set(path.read_bytes().splitlines()) for address, path in files.items()}
    weights = {address: sum(map(len, of_it)) for address, of_it in lines.items()}
    left = sorted(files, key=lambda address: (files[address].suffix, address))
    order = left[:1]
    left = left[1:]
    while left:
        here = order[-1]
        shared = [sum(map(len, lines[here] & lines[other])) for other in left]
        alike = [part / (weights[here] + weights[other] - part or 1) for part, other in zip(shared, left, strict=True)]
        order.append(left.pop(alike.index(max(alike))))
    return order
