"""Where each part of a valve stack stands in its drawing, and the drawing in words."""

from dataclasses import dataclass
from math import cos, radians, sin

from tankfoot.checklists.practice import NONE
from tankfoot.wording import words

WIDTH = 360
LENGTHS = {
    "clamp": 40, "pipe": 64, "cap": 16, "gauge": 68, "elbow": 40, "tee": 96, "butterfly": 56, "diaphragm": 56,
    "sight-glass": 60, "hose": 44,
}
LABELLED = (("diaphragm", "shut"), ("diaphragm", "open"), ("hose", "drips"))  # told by a word beside it too
TURNED = {"down": 0, "right": -90, "left": 90}  # degrees of SVG's rotate; a part is drawn as it hangs
OUTLET = {"cone": (116, 86), "cone-with-arm": (116, 160)}  # under the cone
ARM = (188, 78)
TEE_REACH = 56  # of its side from the middle of the pipe
LETTER, WORD = 64, {"diaphragm": 86, "hose": 52, "gauge": 0}  # likewise


@dataclass(frozen=True)
class Placed:
    """A part and its place: ``drawn`` is the name of its symbol, ``transform`` SVG's, x and y the middle of it."""

    drawn: str
    transform: str
    x: float
    y: float
    letter: str | None = None
    label: tuple[float, float] | None = None
    says: str | None = None


def cone(stack):
    """The name of the cone's symbol."""
    return "cone-with-arm" if stack.arm else "cone"


def placed(stack):
    """All parts of ``stack`` in place, from the tank on."""
    found = list(_along(stack, stack.parts, *OUTLET[cone(stack)], "down"))
    return found + list(_along(stack, stack.arm, *ARM, "right"))


def extent(parts):
    """How wide and how high the drawing is."""
    places = [place for part in parts for place in ((part.x, part.y), part.label) if place]
    return max(WIDTH, max(x for x, _ in places) + 48), max(y for _, y in places) + 56


def _along(stack, parts, x, y, way):
    for part in parts:
        yield _place(stack, part, x, y, way)
        dx, dy = _turned(0, LENGTHS[part.part] / 2, way)
        if part.part == "tee":
            side_x, side_y = _turned(0, TEE_REACH, part.turn)
            yield from _along(stack, part.side, x + dx + side_x, y + dy + side_y, part.turn)
        if part.part == "elbow":
            out_x, out_y = _turned(0, LENGTHS["elbow"] / 2, part.turn)
            dx, dy, way = dx + out_x, dy + out_y, part.turn
        x, y = x + 2 * dx, y + 2 * dy


def _place(stack, part, x, y, way):
    mirror = _mirrored(stack, part, way)
    side = -1 if mirror else 1
    dx, dy = _turned(0, LENGTHS[part.part] / 2, way)
    beside = words("practice")["beside"]
    says = part.reads or (beside[part.stands] if (part.part, part.stands) in LABELLED else None)
    label = None
    if part.letter or says:
        out = -side * LETTER if part.letter else side * WORD[part.part]
        label = tuple(round(a + b + c, 1) for a, b, c in zip((x, y), (dx, dy), _turned(out, 0, way), strict=True))
    return Placed(
        drawn=part.symbol,
        transform=f"translate({x:g} {y:g}) rotate({TURNED[way]})" + " scale(-1 1)" * mirror,
        x=round(x + dx, 1), y=round(y + dy, 1), letter=part.letter, label=label,
        says=says,
    )


def _mirrored(stack, part, way):
    """A part is drawn with its handle, or its way out, to the right of what flows down."""
    if part.turn:
        return _turned(1, 0, way) != _turned(0, 1, part.turn)
    return way == "left" or (way == "down" and stack.handles == "left")


def _turned(x, y, way):
    angle = radians(TURNED[way])
    return round(x * cos(angle) - y * sin(angle), 6), round(x * sin(angle) + y * cos(angle), 6)


def told(stack):
    """The drawing in words: every part from the tank on, none of them called the right one."""
    said = words("practice")["walk"]
    sentences = [said["gauge"].format(gauge=stack.gauge)] if stack.gauge else []
    sentences += _told_along(stack.parts, "cone", said)
    sentences += _told_along(stack.arm, "arm", said) if stack.arm else []
    return " ".join(sentences)


def _told_along(parts, start, said, turn=None):
    names = []
    for place, part in enumerate(parts):
        names.append(_name(part))
        if part.part == "tee":
            here = _sentence(said[start], names, turn)
            side = _told_along(part.side, "side", said, part.turn)
            return [here, *side, *_told_along(parts[place + 1 :], "on", said)]
    return [_sentence(said[start], names, turn)]


def _sentence(template, names, turn):
    return template.format(parts="; ".join(names), turn=_turn(turn))


def _turn(turn):
    return turn and words("practice")["turns"][turn]


def _name(part):
    names = words("practice")["parts"]
    key = "elbow-down" if part.part == "elbow" and part.turn == "down" else part.symbol
    return names[key].format(letter=part.letter, turn=_turn(part.turn), reads=part.reads)


def choices(stack):
    """{what can be chosen: (whether it is right, what it is told)}"""
    offered = [*stack.letters, *([NONE] if stack.job else [])]
    return {chosen: (chosen == stack.verdict[0], _reply(stack, chosen)) for chosen in offered}


def _reply(stack, chosen):
    said, (right, reason) = words("practice"), stack.verdict
    facts = {"right": right, "chosen": chosen, "why": stack.why}
    if chosen == right:
        return said["right"][reason].format(**facts)
    if stack.job and chosen in stack.tank_side:
        return said["on-tank"]["wrong"].format(**facts)
    return said["wrong"][reason].format(**facts)
