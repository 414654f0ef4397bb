"""Reads an export file and says what is wrong with it, and where."""

from collections import Counter

from tankfoot.office.record import BODIES, Problem
from tankfoot.office.transfer import LARGEST, SENTENCES, Contents, read_file

NOUNS = {
    "tank": ("tank", "tanks"), "purge": ("purge", "purges"), "list-run": ("checklist run", "checklist runs"),
    "training": ("training run", "training runs"), "site-list": ("site's own list", "site's own lists"),
    "photo": ("photo", "photos"),
}


def check_file(path):
    """The Contents of the file at ``path``, whatever it is. Raises OSError where it cannot be read."""
    if path.stat().st_size > LARGEST:
        return _only("too-large", most=LARGEST // 1_000_000)
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        return _only("not-utf8")
    return read_file(text)


def summary(entries):
    """What ``entries`` are, counted.

    >>> summary([{"kind": "tank", "deleted": False}, {"kind": "purge", "deleted": True}])
    '1 tank, 1 deleted'
    """
    kinds = Counter(entry["kind"] for entry in entries if not entry["deleted"])
    said = [f"{kinds[kind]} {NOUNS[kind][kinds[kind] != 1]}" for kind in BODIES if kinds[kind]]
    deleted = sum(entry["deleted"] for entry in entries)
    return ", ".join(said + [f"{deleted} deleted"] * bool(deleted)) or "no entries"


def _only(code, **facts):
    return Contents(problems=[Problem("", SENTENCES[code].format(**facts))])
