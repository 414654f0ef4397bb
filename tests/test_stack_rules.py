"""The right clamp follows from the order of a stack's parts, wherever its valves and tees stand."""

import pytest
from tankfoot.checklists import ChecklistError, shaped
from tankfoot.checklists.practice import NONE, StacksShape, stacks
from tankfoot.site.stack_drawing import extent, placed


def stack(parts, **others):
    data = {"id": "made-up", "why": "The valve before a clamp holds the tank.", "parts": parts, **others}
    return shaped(StacksShape(), "stacks.toml", {"stacks": [data]})["stacks"][0]


def two_ways(side, down):
    """A tee right under the tank-side clamp, a valve on each of its ways; the flow valve down there comes off."""
    outlet = [{"part": "butterfly", "stands": side}, {"part": "clamp", "letter": "B"}, {"part": "cap"}]
    return [
        {"part": "clamp", "letter": "A"},
        {"part": "tee", "turn": "right", "side": outlet},
        {"part": "butterfly", "stands": down},
        {"part": "sight-glass", "stands": "clear"},
        {"part": "clamp", "letter": "C"},
        {"part": "diaphragm", "stands": "open"},
        {"part": "clamp", "letter": "D"},
        {"part": "hose", "stands": "nothing"},
    ]


# Source: 29 CFR 1910.147(d)(5), stored energy is held back before work begins (from memory): the valve between tank
# and clamp counts, and no other.
@pytest.mark.parametrize(
    ("side", "down", "right"), [("open", "shut", "C"), ("shut", "shut", "C"), ("shut", "open", NONE)],
)
def test_the_valve_on_the_way_to_the_clamp_decides_and_not_its_neighbours(side, down, right):
    assert stack(two_ways(side, down), job="The flow valve comes off.", off="diaphragm").verdict[0] == right


# A part above a tee is on both of its ways, and still there once: it may be what comes off.
def test_a_part_above_a_tee_is_one_part():
    outlet = [{"part": "clamp", "letter": "C"}, {"part": "cap"}]
    parts = [
        {"part": "clamp", "letter": "A"},
        {"part": "butterfly", "stands": "shut"},
        {"part": "sight-glass", "stands": "clear"},
        {"part": "clamp", "letter": "B"},
        {"part": "diaphragm", "stands": "open"},
        {"part": "tee", "turn": "right", "side": outlet},
        {"part": "hose", "stands": "nothing"},
    ]
    assert stack(parts, job="The flow valve comes off.", off="diaphragm").wanted == "B"


def test_a_part_that_no_clamp_holds_cannot_come_off():
    parts = [
        {"part": "butterfly", "stands": "shut"},
        {"part": "hose", "stands": "nothing"},
    ]
    arm = [{"part": "clamp", "letter": "A"}, {"part": "butterfly", "stands": "shut"}, {"part": "cap"}]
    with pytest.raises(ChecklistError, match="no clamp holds"):
        stack(parts, arm=arm, job="The hose comes off.", off="hose")


# A drawing is cut off at its edges (SVG 2, viewBox): also what has no letter has to lie within them.
@pytest.mark.parametrize("name", stacks())
def test_every_part_of_a_drawing_lies_within_its_edges(name):
    parts = placed(stacks()[name])
    wide, high = extent(parts)
    assert all(20 <= part.x <= wide - 20 and 20 <= part.y <= high - 20 for part in parts)
