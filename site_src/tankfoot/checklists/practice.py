"""Valve stacks to practise on, from ``stacks.toml``: what hangs on the tank, which clamp is right, and why.

What a stack says is in the ``stacks.toml`` of a language, by the stack's id.

Nothing in the data says which clamp is right; it follows from the order of the parts, as it does at the tank.
"""

from dataclasses import dataclass
from functools import cache

from marshmallow import ValidationError, fields, post_load, validates_schema
from marshmallow.validate import OneOf, Regexp

from tankfoot.checklists import HERE, in_language, parsed, shaped
from tankfoot.checklists.schema import SLUG, Shape, many, text

EXERCISE = "which-clamp"
NONE = "none"
STATES = {
    "clamp": (), "pipe": (), "cap": (), "gauge": (), "elbow": (), "tee": (),
    "butterfly": ("shut", "open"), "diaphragm": ("shut", "open"), "sight-glass": ("clear", "packed"),
    "hose": ("nothing", "drips"),
}
VALVES = ("butterfly", "diaphragm")
ENDS = ("cap", "hose", "gauge")
HINDRANCES = ("drips", "packed", "shut", "capped")
TURNS = ("left", "right", "down")


@dataclass(frozen=True)
class Part:
    """One part of a stack. ``stands``: its state. An elbow ``turn``s; so does the ``side`` of a tee."""

    part: str
    stands: str | None = None
    turn: str | None = None
    side: tuple = ()
    reads: str | None = None
    letter: str | None = None

    @property
    def symbol(self):
        """The name of what is drawn and said for it: the part, and how it stands."""
        return "-".join(filter(None, (self.part, self.stands)))

    def blocks(self):
        """Why nothing passes this part, or None."""
        return self.stands if self.stands in ("shut", "packed") else "capped" if self.part == "cap" else None


@dataclass(frozen=True)
class Stack:
    """What hangs on one tank: ``parts`` under the cone, ``arm`` at its side.

    ``job``: none asks which clamp may never be opened; one asks which clamp comes off for it now, which takes the
    part ``off`` the tank.
    """

    id: str
    why: str
    parts: tuple[Part, ...]
    arm: tuple[Part, ...] = ()
    handles: str = "right"
    gauge: str | None = None
    job: str | None = None
    off: str | None = None

    @property
    def paths(self):
        """Every way from the tank to an end, each the parts on it in their order."""
        return [*_paths(self.parts), *(_paths(self.arm) if self.arm else ())]

    @property
    def letters(self):
        """The clamps' letters, sorted."""
        return sorted({part.letter for path in self.paths for part in path if part.letter})

    @property
    def tank_side(self):
        """The letters of clamps with no valve between them and the tank; a right stack has one."""
        return sorted({part.letter for path in self.paths for part in _before_valve(path) if part.letter})

    @property
    def verdict(self):
        """(the right choice, the word that says why): ``tank-side`` or, with a job, what stands against it."""
        if self.job is None:
            return self.tank_side[0], "tank-side"
        if self.wanted in self.tank_side:
            return NONE, "hangs-on-tank"
        isolation = _isolation(self.way_off)
        beside = [path for path in self.paths if _isolation(path) is isolation]
        hindrance = _hindrance(beside) or (None if any(map(_shows_a_plug, beside)) else "unseen")
        return (NONE, hindrance) if hindrance else (self.wanted, "ready")

    @property
    def wanted(self):
        """The clamp that the job would open: the last one before the part that comes off."""
        return next(part.letter for part in reversed(self.way_off) if part.letter)

    @property
    def way_off(self):
        """The parts from the tank to the one that comes off, without it."""
        path = next(path for path in self.paths if any(part.part == self.off for part in path))
        return path[: [part.part for part in path].index(self.off)]


def _paths(parts):
    """The ways through ``parts``; at a tee one goes on and one to the side."""
    for place, part in enumerate(parts):
        if part.part == "tee":
            so_far = [*parts[: place + 1]]
            return [so_far + rest for way in (part.side, parts[place + 1 :]) for rest in _paths(way)]
    return [list(parts)]


def _before_valve(path):
    return path[: next(place for place, part in enumerate(path) if part.part in VALVES)]


def _isolation(path):
    """The first valve on a path."""
    return next(part for part in path if part.part in VALVES)


def _hindrance(paths):
    """What stands against opening a clamp below the one first valve of ``paths``, or None: something drains there."""
    if _isolation(paths[0]).stands == "open":
        return "open"
    found = {_end_of(path[len(_before_valve(path)) + 1 :]) for path in paths}
    grave = next((reason for reason in HINDRANCES if reason in found), None)
    return grave if grave == "drips" or "nothing" not in found else None


def _shows_a_plug(path):
    """Whether a glass above the flow valve would show one; below it a plug leaves the glass clear."""
    below = path[len(_before_valve(path)) + 1 :]
    flow_valve = next((place for place, part in enumerate(below) if part.part in VALVES), len(below))
    return any(part.part == "sight-glass" for part in below[:flow_valve])


def _end_of(below):
    return next((reason for part in below if (reason := part.blocks())), below[-1].stands or "capped")


class PartShape(Shape):
    makes = Part
    part = fields.Str(required=True, validate=OneOf(STATES, error="is no part: use {choices}"))
    stands = fields.Str(load_default=None)
    turn = fields.Str(load_default=None, validate=OneOf(TURNS, error="is no direction: use {choices}"))
    side = fields.List(fields.Nested(lambda: PartShape()), load_default=())
    reads = text(20, required=False)
    letter = fields.Str(load_default=None, validate=Regexp(r"[A-F]\Z", error="is no letter from A to F: give one"))

    @validates_schema
    def fit(self, data, **kwargs):
        kind, states = data["part"], STATES[data["part"]]
        if data["stands"] not in (states or (None,)):
            raise ValidationError(f"stands in no state it has: use one of {', '.join(states) or 'none'}", "stands")
        wanted = {"letter": ("clamp",), "turn": ("elbow", "tee"), "side": ("tee",), "reads": ("gauge",)}
        wrong = [key for key, kinds in wanted.items() if bool(data[key]) != (kind in kinds)]
        if wrong:
            raise ValidationError(f"a {kind} lacks it or has no use for it", wrong[0])


class StackShape(Shape):
    makes = Stack
    id = text(40, also=[SLUG])
    why = text(240)
    parts = many(fields.Nested(PartShape), 2, 12, "parts")
    arm = fields.List(fields.Nested(PartShape), load_default=())
    handles = fields.Str(load_default="right", validate=OneOf(TURNS[:2], error="is no side: use {choices}"))
    gauge = text(24, required=False)
    job = text(100, required=False)
    off = fields.Str(load_default=None, validate=OneOf(STATES, error="is no part: use {choices}"))

    @post_load
    def make(self, data, **kwargs):
        stack = super().make(data, **kwargs)
        _check_ways(stack.paths)
        if len(stack.tank_side) != 1:
            raise ValidationError(f"has {len(stack.tank_side)} clamps with no valve before them: it must be one")
        _check_letters(stack)
        _check_job(stack)
        return stack


def _check_ways(paths):
    for path in paths:
        kinds = [part.part for part in path]
        if kinds[-1] not in ENDS or set(kinds[:-1]) & set(ENDS):
            raise ValidationError(f"has a way that does not end in one of {', '.join(ENDS)}: end it there", "parts")
        if next((kind for kind in kinds if kind in VALVES), None) != "butterfly":
            raise ValidationError("has a way whose first valve is no butterfly valve: put one in", "parts")


def _check_letters(stack):
    clamps = {id(part): part.letter for path in stack.paths for part in path if part.part == "clamp"}
    if sorted(clamps.values()) != list("ABCDEF"[: len(clamps)]):
        raise ValidationError("letters its clamps otherwise than A, B, C and on, each once", "parts")


def _check_job(stack):
    if (stack.job is None) != (stack.off is None):
        raise ValidationError("has a job without a part that comes off, or the other way round", "off")
    if stack.off is None:
        return
    kinds = {id(part): part.part for path in stack.paths for part in path}
    if [*kinds.values()].count(stack.off) != 1:
        raise ValidationError("names a part that is not there once", "off")
    if not any(part.letter for part in stack.way_off):
        raise ValidationError("names a part that no clamp holds: name one below a clamp", "off")


class StacksShape(Shape):
    makes = dict
    stacks = many(fields.Nested(StackShape), 1, 60, "stacks")


@cache
def stacks():
    """{id: Stack}, in the order of the file."""
    found = shaped(StacksShape(), "stacks.toml", with_words(parsed(HERE / "stacks.toml")))["stacks"]
    return {stack.id: stack for stack in found}


def with_words(data):
    """The parsed ``stacks.toml``, each stack with what it says."""
    said = parsed(in_language("stacks.toml"))
    return {"stacks": [stack | said.get(stack["id"], {}) for stack in data["stacks"]]}
