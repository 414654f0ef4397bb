"""What a checklist, an emergency card and a region may hold, and what is refused."""

import re
import tomllib
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from importlib.resources import files

from marshmallow import Schema, ValidationError, fields, post_load, validates_schema
from marshmallow.validate import Length, OneOf, Range, Regexp

from tankfoot.checklists.content import Act, Advice, Card, Checklist, Line, Part, Region, Standard
from tankfoot.record.limits import CARD, LINE, LIST, MOST_LINES, MOST_PARTS, PART
from tankfoot.wording.languages import FIRST, LANGUAGE

SIGNALS = {
    "DANGER": "Not avoided, it will kill or injure seriously. Kept for the most extreme cases.",
    "WARNING": "Not avoided, it could kill or injure seriously.",
    "CAUTION": "Not avoided, it could injure slightly or moderately.",
    "NOTICE": "About beer, plant or rules; nobody gets hurt.",
}
INJURY_SIGNALS = ("DANGER", "WARNING", "CAUTION")
PICTURES = ("valve-stack",)
ACTS_ON_A_CARD = 5
SLUG = Regexp(r"[a-z0-9]+(-[a-z0-9]+)*\Z", error="is not a name such as 'flow-valve-shut': rename it so")
OF_A_SUM = Regexp(r"[a-z0-9-]+\.[a-z0-9_]+\Z", error="names no part of a sum: write it as 'open-port.flow'")
DIGITS = Regexp(r"\d{2,6}\Z", error="is no telephone number: write digits only")

LOOKED_AT_IN = ContextVar("the language of what is looked at", default=LANGUAGE)


@contextmanager
def texts_in(language):
    """What is looked at inside is held to the rules of this language."""
    before = LOOKED_AT_IN.set(language)
    try:
        yield
    finally:
        LOOKED_AT_IN.reset(before)


@cache
def rules(language=LANGUAGE):
    """How texts of a language begin and end, and what they may not say: its ``rules.toml``, else the first one's."""
    own = files(__package__) / language / "rules.toml"
    of_the_first = {} if language == FIRST else rules(FIRST)
    return of_the_first | (tomllib.loads(own.read_text(encoding="utf-8")) if own.is_file() else {})


def _rule(name):
    return rules(LOOKED_AT_IN.get())[name]


def _plain(text):
    if not text.strip() or text != text.strip():
        raise ValidationError("is empty or has spaces at its ends: write the words alone")
    if found := re.search(_rule("promises"), text, re.IGNORECASE):
        raise ValidationError(f"promises too much ('{found[0]}'): say what was seen or what to do instead")


def _wrong(write):
    missing = "is missing: write it"
    return {"required": missing, "null": missing, "invalid": f"is of another kind: write {write}"}


def text(longest, *, required=True, also=()):
    """A text of at most ``longest`` characters that promises nothing."""
    too_long = Length(max=longest, error=f"is longer than {longest} characters: shorten it")
    presence = {"required": True} if required else {"load_default": None}
    return fields.Str(validate=[_plain, too_long, *also], error_messages=_wrong("text in quotes"), **presence)


def many(inner, least, most, what):
    """A list of ``least`` to ``most`` items, held as a tuple by what is made of it."""
    size = Length(least, most, error=f"holds too few or too many: give {least} to {most} {what}")
    return fields.List(inner, required=True, validate=size, error_messages=_wrong("a list"))


def flag():
    """True or false, false when not given."""
    wrong = _wrong("true or false")
    return fields.Bool(truthy={True}, falsy={False}, load_default=False, error_messages=wrong)


def _states_a_value(value):
    if re.fullmatch(_rule("empty_answers"), value, re.IGNORECASE):
        raise ValidationError(f"'{value}' says nothing: state what is seen, such as 'Shut: handle across'")


def _is_short(act):
    if len(act.split()) > (most := _rule("words_in_a_card_act")):
        raise ValidationError(f"has more than {most} words: move the rest to detail")


def _is_condition(text):
    if not text.startswith(begins := _rule("condition")):
        raise ValidationError(f"is no condition: begin it {begins!r}")


def _is_final_call(text):
    if not text.endswith(tuple(ends := _rule("completion"))):
        raise ValidationError(f"is no final call: end it with {' or '.join(map(repr, ends))}")


class Shape(Schema):
    """A schema that refuses unknown keys and makes its dataclass, lists turned into tuples."""

    error_messages = {
        "unknown": "is not a known key: correct its spelling or take it out",
        "type": "is not a table: write its keys and values",
    }
    makes = None

    @post_load
    def make(self, data, **kwargs):
        return self.makes(**{key: _frozen(item) for key, item in data.items()})


def _frozen(item):
    return tuple(item) if isinstance(item, list) else item


NEEDED = "is missing: a gate needs its source, an injury signal also consequence and avoid"
STRAY = "has no signal word beside it: give the line one"


class LineShape(Shape):
    makes = Line
    id = text(40, also=[SLUG])
    act = text(LINE["act"])
    value = text(LINE["value"], also=[_states_a_value])
    why = text(LINE["why"])
    gate = flag()
    signal = fields.Str(load_default=None, validate=OneOf(SIGNALS, error="is no signal word: use {choices}"))
    consequence = text(LINE["consequence"], required=False)
    avoid = text(LINE["avoid"], required=False)
    source = text(LINE["source"], required=False)

    @validates_schema
    def tell_the_whole_hazard(self, line, **kwargs):
        hurts = line["signal"] in INJURY_SIGNALS
        needed = {"consequence": hurts, "avoid": hurts, "source": hurts or line["gate"]}
        missing = [key for key, wanted in needed.items() if wanted and line[key] is None]
        stray = [key for key in ("consequence", "avoid") if line[key] is not None and line["signal"] is None]
        complaints = {key: [NEEDED] for key in missing} | {key: [STRAY] for key in stray}
        if complaints:
            raise ValidationError(complaints)


class PartShape(Shape):
    makes = Part
    title = text(PART["title"])
    pause = text(PART["pause"])
    lines = many(fields.Nested(LineShape), 1, MOST_LINES, "lines before the next pause")


class Headed(Shape):
    id = text(60, also=[SLUG])
    language = text(8)
    version = text(8)
    order = fields.Int(
        required=True, strict=True, error_messages=_wrong("a whole number"),
        validate=Range(min=1, error="is not 1 or more: give its place among the others"),
    )
    title = text(LIST["title"])
    dated = fields.Date(required=True, error_messages=_wrong("a date such as 2026-11-25"))


class ChecklistShape(Headed):
    makes = Checklist
    condition = text(LIST["condition"], also=[_is_condition])
    completion = text(LIST["completion"], also=[_is_final_call])
    picture = fields.Str(load_default=None, validate=OneOf(PICTURES, error="is no picture: use {choices}"))
    numbers = fields.List(text(60, also=[OF_A_SUM]), load_default=())
    inputs = fields.List(text(60, also=[OF_A_SUM]), load_default=())
    initials = flag()
    second = flag()
    grows_old = flag()
    parts = many(fields.Nested(PartShape), 1, MOST_PARTS, "parts")

    @validates_schema
    def name_each_line_once(self, data, **kwargs):
        ids = [line.id for part in data["parts"] for line in part.lines]
        if twice := sorted({name for name in ids if ids.count(name) > 1}):
            raise ValidationError(f"has the line id {', '.join(twice)} more than once: rename one", "parts")


class ActShape(Shape):
    makes = Act
    act = text(CARD["act"], also=[_is_short])
    detail = text(CARD["detail"], required=False)
    call = flag()
    source = text(CARD["source"])


def _defers(words):
    if not all(part in words for part in _rule("defers")):
        raise ValidationError("does not defer: say that site procedures and emergency services come first")


def _forbids(line):
    if not line.startswith(tuple(begins := _rule("never"))):
        raise ValidationError(f"reads as an order when it stands alone: begin it {' or '.join(map(repr, begins))}")


class NeverShape(Shape):
    makes = Advice
    line = text(CARD["never"], also=[_forbids])
    source = text(CARD["source"])


class ThenShape(Shape):
    makes = Advice
    line = text(CARD["then"])
    source = text(CARD["source"])


class CardShape(Headed):
    makes = Card
    defer = text(CARD["defer"], also=[_defers])
    acts = many(fields.Nested(ActShape), 1, ACTS_ON_A_CARD, "acts")
    never = many(fields.Nested(NeverShape), 1, 4, "things not to do")
    then = many(fields.Nested(ThenShape), 1, 4, "things to do then")
    why = text(CARD["why"])
    source = text(CARD["source"])


class RegionShape(Shape):
    makes = Region
    name = text(40)
    shown = text(40, required=False)
    number = text(6, also=[DIGITS])
    also = text(6, required=False, also=[DIGITS])
    standard = text(4, required=False)
    source = text(300)


class StandardShape(Shape):
    makes = Standard
    named = text(20)
    co2_limits = text(200)
    eyewash = text(100)


class RegionsShape(Schema):
    error_messages = Shape.error_messages
    standards = fields.Dict(fields.Str(), fields.Nested(StandardShape), required=True, error_messages=_wrong("a table"))
    regions = many(fields.Nested(RegionShape), 1, 60, "regions")

    @validates_schema
    def know_each_standard(self, data, **kwargs):
        for region in data["regions"]:
            if region.standard not in (None, *data["standards"]):
                unknown = f"names the standard '{region.standard}', which is not there: write it"
                raise ValidationError(unknown, "regions")
