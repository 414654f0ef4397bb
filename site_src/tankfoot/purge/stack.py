"""What hangs under a tank: parts in their order from the tank down, which clamp is which, and where each is drawn.

A stack is a list of part names such as ``["clamp", "butterfly", "clamp", "diaphragm", "clamp", "hose"]``. The first
valve of it is the isolation valve; clamps before that are tank-side, the first one after it is the outer clamp.
"""

import tomllib
from functools import cache
from importlib.resources import files

from tankfoot.purge.shuffle import draws, shuffled

VALVES = ("butterfly", "diaphragm")
SIZE = 320.0  # side of the drawing, px; a longer stack makes it longer
LENGTHS = {"tank": 24.0, "clamp": 20.0, "cap": 20.0, "hose": 40.0}  # px along the stack
OTHERWISE = 46.0  # so that neighbouring clamps are a glove's target of 56 px and a gap of 8 apart
EDGE = 44.0  # px that the middle of the stack keeps from the sides
TURNS = ("down", "left", "right")
COARSE = 1000


@cache
def typical():
    """{name: parts} of stacks to pick a tank's own from; "usual" comes first."""
    return tomllib.loads((files(__package__) / "stacks.toml").read_text(encoding="utf-8"))


def problem(parts):
    """Why ``parts`` are no stack, as a stable word; None where they are one.

    >>> problem(["clamp", "butterfly", "clamp", "hose"]), problem(["clamp", "diaphragm", "clamp", "hose"])
    (None, 'no-isolation-valve')
    """
    if next((part for part in parts if part in VALVES), None) != "butterfly":
        return "no-isolation-valve"
    if "clamp" not in parts[parts.index("butterfly") :]:
        return "no-clamp-below"
    if "hose" not in parts or parts.index("hose") != len(parts) - 1 or "cap" in parts:
        return "no-hose-last"
    return None


def tank_side(parts):
    """Places of the clamps with no valve between them and the tank; none where the valve is welded on."""
    return [place for place, part in enumerate(parts[: parts.index("butterfly")]) if part == "clamp"]


def outer(parts):
    """The place of the first clamp below the isolation valve."""
    return parts.index("clamp", parts.index("butterfly"))


def capped(parts):
    """The stack of a tank at rest: what stays on it, the outer clamp, and the cap.

    >>> capped(["clamp", "butterfly", "clamp", "diaphragm", "clamp", "hose"])
    ['clamp', 'butterfly', 'clamp', 'cap']
    """
    return [*parts[: outer(parts) + 1], "cap"]


def view(parts, seed):
    """The stack as it is drawn this time, which follows from the text ``seed``: {"turn", "length", "parts"}.

    ``turn``: where it leads from the tank. ``length`` of the drawing along it, px. ``parts``: of the tank's foot and
    then of each part its ``part``, its middle ``x`` and ``y`` and its ``along``, all px, in their order. What is free
    along the stack is dealt out among the parts, so that no clamp keeps its place from one view to the next.
    """
    numbers = draws(seed)
    names = ["tank", *parts]
    shares = [float(next(numbers) % COARSE) for _ in [*names, "before"]]
    lengths = [LENGTHS.get(name, OTHERWISE) for name in names]
    free = max(0.0, SIZE - sum(lengths))
    turn = shuffled(TURNS, seed)[0] if free > 0.0 else TURNS[0]
    each = free / (sum(shares) + 1.0)
    across = EDGE + (SIZE - 2.0 * EDGE) * (next(numbers) % COARSE) / COARSE
    at, placed = shares[-1] * each, []
    for name, length, share in zip(names, lengths, shares, strict=False):
        along = length + share * each
        placed.append({"part": name, **_point(turn, at + along / 2.0, across), "along": along})
        at += along
    return {"turn": turn, "length": max(SIZE, sum(lengths)), "parts": placed}


def _point(turn, along, across):
    if turn == "down":
        return {"x": across, "y": along}
    return {"x": along if turn == "right" else SIZE - along, "y": across}


RANGES = {
    "problem": ["parts"],
    "tank_side": ["stack"],
    "outer": ["stack"],
    "capped": ["stack"],
    "view": ["stack", "seed"],
}
