"""What the record may hold: schemas for the export file, its entries and the body of every kind."""

import math
from dataclasses import dataclass

from tankfoot.quantities.text import LONGEST_TEXT
from tankfoot.record.canonical import number, utf16
from tankfoot.record.limits import LINE, LIST, MOST_LINES, MOST_PARTS, PART
from tankfoot.record.strict import Many, Named, One, Shape, Value

FORMAT = "tankfoot-record"
SCHEMA_VERSION = 1
UUID = "^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$"
INSTANT = "^(19|20)[0-9]{2}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\\.[0-9]{3}Z$"
NAME = "^[a-z0-9]+(-[a-z0-9]+)*$"
SOLIDS = ["trub", "yeast", "hops", "fruit", "routine"]
LONGEST_PHOTO = 8_000_000
MOST_EVENTS = 10_000


def _or_null(kind, null):
    return [kind, "null"] if null else kind


def text(longest, *, least=0, null=False, required=True):
    """A text of ``least`` to ``longest`` characters."""
    what = f"a text of {least} to {longest} characters{' or null' * null}"
    return Value(what, type=_or_null("string", null), minLength=least, maxLength=longest, required=required)


def patterned(what, pattern, *, null=False, **keywords):
    """A text of one pattern."""
    return Value(what + " or null" * null, type=_or_null("string", null), pattern=pattern, **keywords)


def uuid(null=False):
    """An entry's id."""
    return patterned("an id such as 0b0a3c9e-5b1d-4c1e-9f3a-2d1f6a7b8c9d", UUID, null=null)


def instant(null=False):
    """An instant in UTC, as JavaScript's toISOString writes it."""
    return patterned("an instant such as 2026-03-01T07:05:09.120Z", INSTANT, null=null, format="date-time")


def name():
    """A name of something that the app knows, a checklist's id, say."""
    return patterned("a name such as colour-change, at most 60 characters", NAME, maxLength=60)


def one_of(*words, null=False, **keywords):
    """One of a few texts."""
    what = f"{'one of ' * (len(words) > 1)}{', '.join(words)}{' or null' * null}"
    return Value(what, type=_or_null("string", null), enum=[*words, *[None] * null], **keywords)


def flag(*, null=False, required=True):
    """True or false."""
    return Value("true or false" + " or null" * null, type=_or_null("boolean", null), required=required)


def quantity(unit, low, high, *, above=False, null=False, high_text=None):
    """A number in SI from ``low`` (``above`` it) to ``high``."""
    reach = ("above " if above else "from ") + number(float(low))
    what = f"a number of {unit} {reach} to {high_text or number(float(high))}{' or null' * null}"
    lowest = {"exclusiveMinimum" if above else "minimum": low}
    return Value(what, type=_or_null("number", null), maximum=high, **lowest)


def anything(*, required=True):
    """An object of which nothing is asked."""
    return Value("an object", type="object", required=required)


class Tank(Shape):
    name = text(40, least=1)
    diameter = quantity("metres", 0, 20, above=True)
    straight_height = quantity("metres", 0, 100000)
    cone_angle = quantity("radians", 0, math.pi, above=True, high_text="pi")
    head_depth = quantity("metres", 0, 10)
    head_volume = quantity("cubic metres", 0, 2000, null=True)
    bore = quantity("metres", 0, 1, above=True)
    arm_height = quantity("metres", 0, 50, null=True)
    rated_pressure = quantity("pascals gauge", 0, 2e6, null=True)
    hold_pressure = quantity("pascals gauge", 0, 2e6, null=True)
    floor_pressure = quantity("pascals gauge", -1e5, 2e6, null=True)
    beer_volume = quantity("cubic metres", 0, 20000)
    temperature = quantity("kelvins", 230, 400)
    pressure = quantity("pascals gauge", -1e5, 2e6, null=True)
    purge_every = quantity("seconds", 0, 1e9, above=True, null=True)


class PurgeEvent(Shape):
    at = instant()
    state = name()
    event = name()
    data = anything(required=False)


class Amount(Shape):
    value = quantity("SI units", -1e12, 1e12)
    uncertainty = quantity("SI units", 0, 1e12, null=True)


class Purge(Shape):
    tank = uuid(null=True)
    tank_name = text(40)
    solids = one_of(*SOLIDS)
    state = name()
    events = Many(f"a list of at most {MOST_EVENTS} events", One(PurgeEvent), maxItems=MOST_EVENTS)
    readings = Named("an object of texts as typed", text(LONGEST_TEXT))
    gas_shut = flag(null=True)
    result = Named("an object of amounts", One(Amount))
    agree = flag(null=True)
    notes = text(100_000)
    photo = uuid(null=True)


class LineEvent(Shape):
    line = name()
    at = instant()
    done = flag()
    reason = text(400, null=True, required=False)


class ListRun(Shape):
    checklist = name()
    version = patterned("8 hex digits", "^[0-9a-f]{8}$")
    started = instant()
    events = Many(f"a list of at most {MOST_EVENTS} events", One(LineEvent), maxItems=MOST_EVENTS)
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
    answers = Many("a list of at most 1000 answers", One(Answer), maxItems=1000)


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
    lines = Many(f"a list of 1 to {MOST_LINES} lines", One(SiteLine), minItems=1, maxItems=MOST_LINES)


class SiteChecklist(Shape):
    title = text(LIST["title"], least=1)
    condition = text(LIST["condition"], least=1)
    completion = text(LIST["completion"], least=1)
    based_on = text(120, null=True, required=False)
    picture = one_of("valve-stack", null=True, required=False)
    initials = flag(required=False)
    second = flag(required=False)
    parts = Many(f"a list of 1 to {MOST_PARTS} parts", One(SitePart), minItems=1, maxItems=MOST_PARTS)


class SiteList(Shape):
    list = One(SiteChecklist)
    version = patterned("8 hex digits", "^[0-9a-f]{8}$")


class Photo(Shape):
    type = one_of("image/jpeg")
    data = patterned(
        f"a picture in base64, at most {LONGEST_PHOTO} characters", "^[A-Za-z0-9+/]+={0,2}$",
        maxLength=LONGEST_PHOTO,
    )


BODIES = {
    "tank": Tank(), "purge": Purge(), "list-run": ListRun(), "training": Training(), "site-list": SiteList(),
    "photo": Photo(),
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
    history = Many("a list of at most 1000 replaced bodies", One(Past), maxItems=1000)


class ExportFile(Shape):
    format = one_of(FORMAT)
    schema_version = Value(f"the whole number {SCHEMA_VERSION}", type="integer", enum=[SCHEMA_VERSION])
    app_version = text(40, least=1)
    made = instant()
    count = Value("a whole number from 0", type="integer", minimum=0)
    sha256 = patterned("64 hex digits", "^[0-9a-f]{64}$")
    entries = Value("a list", type="array")


@dataclass(frozen=True)
class Problem:
    """What is wrong: ``where`` (a path, "" for the whole file), what it ``says``, in which entry (``id``)."""

    where: str
    says: str
    id: str | None = None

    def __str__(self):
        entry = f" (entry {self.id})" if self.id else ""
        return f"{self.where} {self.says}{entry}".strip()


def check_shape(shape, value, where=""):
    """The Problems of ``value`` as a ``shape``, none of an empty list, in the order of their places."""
    found = (Problem(path, says) for path, says in _flat(shape.validate(value), where))
    return sorted(found, key=lambda problem: utf16(problem.where))


def check_entry(entry, where=""):
    """The Problems of one ``entry``, which may be any JSON value.

    The body of a deleted entry is not looked at: what was deleted may leave nothing behind.

    >>> print(check_entry({"id": 7})[0])
    body is missing: it must be an object
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
    """Pairs of a path and a sentence from marshmallow's nested messages."""
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
