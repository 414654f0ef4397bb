"""One file made of many, so that a first visit waits for one answer and not for seventy.

A line of JSON has the address, type and length of each file; then come the files themselves, one after the other. LZMA
packs all of it: most lines of a page stand in others too, further back than the 32 kB that gzip looks. What the first
page asks for itself stays out: the browser has it when the pack is fetched.
"""

import json
import lzma
import re

PACK = "tankfoot.pack"  # no ending that a host knows: it would unpack the file on the way
OF_A_PAGE = re.compile(r'<script [^>]*?src="([^"]+)"|<link rel="stylesheet" [^>]*?href="([^"]+)"')
DICTIONARY = 2**22  # bytes that LZMA looks back: more than all files have
TEXT = {"id": lzma.FILTER_LZMA1, "preset": 9 | lzma.PRESET_EXTREME, "dict_size": DICTIONARY, "lc": 3, "lp": 0, "pb": 0}
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
    """A pack of ``files``, {address: path}, and how many bytes it has unpacked: the same files give the same bytes."""
    head, texts = [], []
    for address in sorted(files, key=lambda address: (files[address].suffix, address)):
        texts.append(files[address].read_bytes())
        head.append([address, _type(files[address]), len(texts[-1])])
    whole = json.dumps(head, separators=(",", ":")).encode() + b"\n" + b"".join(texts)
    return lzma.compress(whole, format=lzma.FORMAT_ALONE, filters=[TEXT]), len(whole)


def asked_at_first(root):
    """The paths of the scripts and style sheets that the first page of the site in ``root`` asks for itself."""
    page = root / "index.html"
    found = OF_A_PAGE.findall(page.read_text(encoding="utf-8"))
    return {(page.parent / (script or sheet)).resolve() for script, sheet in found}


def _type(path):
    if path.suffix not in TYPES:
        raise ValueError(f"{path}: write in pack.py which type a file that ends in {path.suffix!r} has")
    return TYPES[path.suffix]
