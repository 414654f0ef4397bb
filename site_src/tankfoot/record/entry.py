"""What the record may hold: schemas for the export file, its entries and the body of every kind."""

import math
from dataclasses import dataclass, field

from tankfoot.quantities.text import LONGEST_TEXT
from tankfoot.record.canonical import number, utf16
from tankfoot.record.limits import LINE, LIST, MOST_LINES, MOST_PARTS, PART
from tankfoot.record.strict import Many, Named, One, Shape, Value

FORMAT = "tankfoot-record"
SCHEMA_VERSION = 3
UUID = "^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$"
INSTANT = "^(19|20)[0-9]{2}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\\.[0-9]{3}Z$"
NAME = "^[a-z0-9]+(-[a-z0-9]+)*$"
SOLIDS = ["trub", "yeast", "hops", "fruit", "mixed"]
PARTS = ["clamp", "butterfly", "diaphragm", "sight-glass", "pipe", "elbow", "tee", "hose", "cap"]
HOLDS = ["valve-leaks", "plug", "above-plate", "below-zero", "dented", "other"]
LONGEST_PHOTO = 8_000_000
MOST_EVENTS = 10_000
MOST_IN_STACK = 12
MOST_IN_ROUND = 60


def _or_null(kind, null):
    return [kind, "null"] if null else kind


def text(longest, *, least=0, null=False, required=True):
    """A text of ``least`` to ``longest`` characters."""
    facts = {"least": str(least), "longest": str(longest)}
    return Value("text", facts, type=_or_null("string", null), minLength=least, maxLength=longest, required=required)


def patterned(what, pattern, facts=None, *, null=False, **keywords):
    """A text of one pattern."""
    return Value(what, facts, type=_or_null("string", null), pattern=pattern, **keywords)


def uuid(null=False):
    """An entry's id."""
    return patterned("uuid", UUID, null=null)


def instant(null=False):
    """An instant in UTC, as JavaScript's toISOString writes it."""
    return patterned("instant", INSTANT, null=null, format="date-time")


def name():
    """A name of something that the app knows, a checklist's id, say."""
    return patterned("name", NAME, maxLength=60)


def hexadecimal(count):
    """So many hex digits."""
    return patterned("hex", f"^[0-9a-f]{{{count}}}$", {"count": str(count)})


def one_of(*words, null=False, **keywords):
    """One of a few texts."""
    what = "one-of" if len(words) > 1 else "one"
    facts = {"words": ", ".join(words)}
    return Value(what, facts, type=_or_null("string", null), enum=[*words, *[None] * null], **keywords)


def flag(*, null=False, required=True):
    """True or false."""
    return Value("flag", type=_or_null("boolean", null), required=required)


def quantity(unit, low, high, *, above=False, null=False, high_text=None):
    """A number in SI from ``low`` (``above`` it) to ``high``."""
    facts = {"unit": unit, "low": number(float(low)), "high": high_text or number(float(high))}
    lowest = {"exclusiveMinimum" if above else "minimum": low}
    what = "number-above" if above else "number-from"
    return Value(what, facts, type=_or_null("number", null), maximum=high, **lowest)


def many(what, shape, most, least=0):
    """A list of ``least`` to ``most`` objects of a shape."""
    fewest = {"minItems": least} if least else {}
    return Many(what, One(shape), {"least": str(least), "most": str(most)}, **fewest, maxItems=most)


def anything():
    """An object of which nothing is asked."""
    return Value("object", type="object")


class Tank(Shape):
    name = text(40, least=1)
    stack = Many("stack", one_of(*PARTS), {"most": str(MOST_IN_STACK)}, maxItems=MOST_IN_STACK, null=True)
    cap_way = text(400, null=True)
    diameter = quantity("metres", 0, 20, above=True)
    straight_height = quantity("metres", 0, 100000)
    cone_angle = quantity("radians", 0, math.pi, above=True, high_text="pi")
    head_depth = quantity("metres", 0, 10)
    head_volume = quantity("cubic-metres", 0, 2000, null=True)
    bore = quantity("metres", 0, 1, above=True)
    arm_height = quantity("metres", 0, 50, null=True)
    rated_pressure = quantity("pascals-gauge", 0, 2e6, null=True)
    hold_pressure = quantity("pascals-gauge", 0, 2e6, null=True)
    floor_pressure = quantity("pascals-gauge", -1e5, 2e6, null=True)
    beer_volume = quantity("cubic-metres", 0, 20000)
    temperature = quantity("kelvins", 230, 400)
    pressure = quantity("pascals-gauge", -1e5, 2e6, null=True)
    purge_every = quantity("seconds", 0, 1e9, above=True, null=True)


class Said(Shape):
    by = text(40, null=True, required=False)
    reason = text(1000, null=True, required=False)


class PurgeEvent(Shape):
    at = instant()
    state = name()
    event = name()
    data = One(Said, required=False)


class Amount(Shape):
    value = quantity("si", -1e12, 1e12)
    uncertainty = quantity("si", 0, 1e12, null=True)


class Purge(Shape):
    tank = uuid(null=True)
    tank_name = text(40)
    solids = one_of(*SOLIDS)
    table = name()
    initials = text(40, null=True)
    state = name()
    events = many("events", PurgeEvent, MOST_EVENTS)
    readings = Named("texts", text(LONGEST_TEXT))
    gas_shut = flag(null=True)
    result = Named("amounts", One(Amount))
    agree = flag(null=True)
    notes = text(100_000)
    photo = uuid(null=True)


class TankHold(Shape):
    tank = uuid()
    why = one_of(*HOLDS)
    note = text(1000)
    by = text(40, null=True)
    purge = uuid(null=True)
    lifted = instant(null=True)
    lifted_by = text(40, null=True)
    lifted_why = text(1000, null=True)


class Review(Shape):
    list = name()
    version = hexadecimal(8)
    by = text(80, least=1)
    on = patterned("day", "^(19|20)[0-9]{2}-[0-9]{2}-[0-9]{2}$")


class RoundTank(Shape):
    tank = uuid()
    tank_name = text(40)
    left_out = text(400, null=True)
    pressure = text(LONGEST_TEXT, null=True)
    read = instant(null=True)


class Round(Shape):
    initials = text(40, null=True)
    tanks = many("round-tanks", RoundTank, MOST_IN_ROUND, least=1)
    ended = instant(null=True)


class LineEvent(Shape):
    line = name()
    at = instant()
    done = flag()
    reason = text(400, null=True, required=False)
    aged = one_of("card", "hand", "time", required=False)


class ListRun(Shape):
    checklist = name()
    version = hexadecimal(8)
    started = instant()
    events = many("events", LineEvent, MOST_EVENTS)
    finished = instant(null=True)
    initials = text(40, null=True, required=False)
    second = text(40, null=True, required=False)


class Answer(Shape):
    stack = text(60, least=1)
    chosen = text(60, least=1)
    right = flag()
    at = instant()


class Training(Shape):
    exercise = name()
    at = instant()
    initials = text(40, null=True, required=False)
    answers = many("answers", Answer, 1000)


class SiteLine(Shape):
    id = name()
    act = text(LINE["act"], least=1)
    value = text(LINE["value"], least=1)
    why = text(LINE["why"], least=1)
    gate = flag(required=False)
    signal = one_of("DANGER", "WARNING", "CAUTION", "NOTICE", null=True, required=False)
    consequence = text(LINE["consequence"], null=True, required=False)
    avoid = text(LINE["avoid"], null=True, required=False)
    source = text(LINE["source"], null=True, required=False)


class SitePart(Shape):
    title = text(PART["title"], least=1)
    pause = text(PART["pause"], least=1)
    lines = many("lines", SiteLine, MOST_LINES, least=1)


class SiteChecklist(Shape):
    title = text(LIST["title"], least=1)
    condition = text(LIST["condition"], least=1)
    completion = text(LIST["completion"], least=1)
    based_on = text(120, null=True, required=False)
    picture = one_of("valve-stack", null=True, required=False)
    initials = flag(required=False)
    second = flag(required=False)
    grows_old = flag(required=False)
    parts = many("parts", SitePart, MOST_PARTS, least=1)


class SiteList(Shape):
    list = One(SiteChecklist)
    version = hexadecimal(8)


class Photo(Shape):
    type = one_of("image/jpeg")
    data = patterned(
        "picture", "^[A-Za-z0-9+/]+={0,2}$", {"longest": str(LONGEST_PHOTO)}, maxLength=LONGEST_PHOTO,
    )


BODIES = {
    "tank": Tank(), "purge": Purge(), "list-run": ListRun(), "training": Training(), "site-list": SiteList(),
    "photo": Photo(), "tank-hold": TankHold(), "review": Review(), "round": Round(),
}


class Past(Shape):
    edited = instant()
    body = anything()


class Entry(Shape):
    id = uuid()
    kind = one_of(*BODIES)
    created = instant()
    edited = instant()
    deleted = flag()
    demo = flag()
    body = anything()
    history = many("past", Past, 1000)


class ExportFile(Shape):
    format = one_of(FORMAT)
    schema_version = Value(
        "whole", {"number": str(SCHEMA_VERSION)}, type="integer", enum=[*range(1, SCHEMA_VERSION + 1)]
    )
    app_version = text(40, least=1)
    made = instant()
    count = Value("count", type="integer", minimum=0)
    sha256 = hexadecimal(64)
    entries = Value("list", type="array")


@dataclass(frozen=True)
class Problem:
    """What is wrong: ``where`` (a path, "" for the whole file), a ``code`` and its facts, in which entry (``id``)."""

    where: str
    code: str
    facts: dict = field(default_factory=dict)
    id: str | None = None


def check_shape(shape, value, where=""):
    """The Problems of ``value`` as a ``shape``, none of an empty list, in the order of their places."""
    found = (Problem(path, code, facts) for path, (code, facts) in _flat(shape.validate(value), where))
    return sorted(found, key=lambda problem: utf16(problem.where))


def check_entry(entry, where=""):
    """The Problems of one ``entry``, which may be any JSON value.

    The body of a deleted entry is not looked at: what was deleted may leave nothing behind.

    >>> check_entry({"id": 7})[0]
    Problem(where='body', code='missing', facts={'what': 'object'}, id=None)
    """
    found = check_shape(ENTRY, entry, where)
    if found or entry["deleted"]:
        return found
    pasts = [(f"history[{place}].body", past["body"]) for place, past in enumerate(entry["history"])]
    bodies, shape = [("body", entry["body"]), *pasts], BODIES[entry["kind"]]
    return [problem for path, body in bodies for problem in check_shape(shape, body, _step(where, path))]


ENTRY = Entry()
EXPORT_FILE = ExportFile()


def _flat(messages, where):
    """Pairs of a path and (code, facts) from marshmallow's nested messages."""
    if isinstance(messages, list):
        yield from ((where, message) for message in messages)
        return
    for key, inner in messages.items():
        yield from _flat(inner, where if key == "_schema" else _step(where, key))


def _step(where, key):
    if key.startswith((".", "[")):
        return where + key
    return f"{where}.{key}" if where else key


RANGES = {
    "check_shape": "shape",
    "check_entry": ["spoilt entry", ["", "entries[3]"]],
}
