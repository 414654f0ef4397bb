"""What is slow to work out and never changes, kept between one start of the command and the next.

It lies in the cache folder of whoever runs it: losing it, or a folder that takes nothing, costs time alone.
"""

import json
import os
from contextlib import suppress
from hashlib import sha256

from platformdirs import user_cache_path


def kept(name, make):
    """What ``make`` makes, a JSON value, taken from the file ``name`` where that is whole."""
    folder = _folder()
    if folder is None:
        return make()
    found = _read(folder / name)
    if found is None:
        found = make()
        with suppress(OSError):  # the next start works it out again
            _write(folder / name, json.dumps(found))
    return found


def _folder():
    """None without a home: platformdirs says so, or an earlier one gives a folder named ~ wherever one stands."""
    with suppress(RuntimeError):
        folder = user_cache_path("tankfoot", appauthor=False)
        return folder if folder.is_absolute() else None


def _read(path):
    """None where there is none, or where what is there is not what was written."""
    try:
        summed, _, text = path.read_text(encoding="ascii").partition("\n")
    except (OSError, UnicodeDecodeError):
        return None
    return json.loads(text) if summed == _sum(text) else None


def _write(path, text):
    """Writes all of it or nothing: two commands may start at once."""
    path.parent.mkdir(parents=True, exist_ok=True)
    made = path.with_name(f"{path.name}.{os.getpid()}")
    made.write_text(f"{_sum(text)}\n{text}", encoding="ascii")
    made.replace(path)


def _sum(text):
    return sha256(text.encode("ascii")).hexdigest()
