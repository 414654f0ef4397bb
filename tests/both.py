"""Arguments that each language has in its own shape."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Both:
    """One argument: ``for_python`` gets a list to note in what it is asked, ``json`` is what JavaScript gets."""

    for_python: Callable[[list], Any]
    json: Any

    def __repr__(self):
        return repr(self.json)
