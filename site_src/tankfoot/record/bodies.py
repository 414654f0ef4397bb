"""The body of every kind of entry."""

import math

from tankfoot.quantities.text import LONGEST_TEXT
from tankfoot.record.limits import LINE, LIST, MOST_LINES, MOST_PARTS, PART
from tankfoot.record.members import (
    flag,
    hexadecimal,
    instant,
    language,
    many,
    name,
    one_of,
    patterned,
    quantity,
    text,
    uuid,
)
from tankfoot.record.strict import Many, Named, One, Row, Shape

SOLIDS = ["trub", "yeast", "hops", "fruit", "mixed"]
PARTS = ["clamp", "butterfly", "diaphragm", "sight-glass", "pipe", "elbow", "tee", "hose", "cap"]
BATCH_EVENTS = [
    "filled", "fermenting", "finished", "cooled", "harvested", "dry-hopped", "fruit-in", "taken", "moved-in",
    "moved-out", "emptied",
]
HOLDS = ["valve-leaks", "plug", "above-plate", "below-zero", "dented", "other"]
LONGEST_PHOTO = 8_000_000
MOST_EVENTS = 10_000
MOST_IN_STACK = 12
MOST_IN_ROUND = 60
MOST_TANKS = 400
LONGEST_SIGN = 8  # of a currency
UNSEEN = ["dark", "glare", "fog", "reference", "moved", "unsteady", "gap"]
LONGEST_STRIP = 2000
MOST_UNSEEN = 20
LONGEST_RUN = 1e6  # s


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


def _seconds(**more):
    return quantity("seconds", 0, LONGEST_RUN, **more)


class Watched(Shape):
    class Meta(Shape.Meta):
        include = {"from": _seconds()}  # no name in Python

    every = _seconds(above=True)
    colours = patterned(
        "strip", "^([A-Za-z0-9+/]{4})+$", {"longest": str(LONGEST_STRIP)}, maxLength=LONGEST_STRIP,
    )
    turning_at = _seconds(null=True)
    beer_at = _seconds(null=True)
    unseen = Many(
        "stretches", Row("stretch", _seconds(), _seconds(), one_of(*UNSEEN)), {"most": str(MOST_UNSEEN)},
        maxItems=MOST_UNSEEN,
    )
    beer_colour = Many(
        "cielab", quantity("cielab", -10000, 10000), null=True, minItems=3, maxItems=3,
    )
    taken = flag()


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
    watched = One(Watched, required=False)


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


class Batch(Shape):
    beer = text(60, least=1)
    notes = text(1000, null=True)


class BatchEvent(Shape):
    batch = uuid()
    tank = uuid()
    tank_name = text(40)
    event = one_of(*BATCH_EVENTS)
    at = instant()
    amount = text(LONGEST_TEXT, null=True)
    days = quantity("days", 0, 400, null=True)
    note = text(400, null=True)
    by = text(40, null=True)


class TankReading(Shape):
    tank = uuid()
    tank_name = text(40)
    at = instant()
    pressure = text(LONGEST_TEXT, null=True)
    temperature = text(LONGEST_TEXT, null=True)
    gravity = text(LONGEST_TEXT, null=True)
    topped_up = text(LONGEST_TEXT, null=True)
    by = text(40, null=True)


class Postponement(Shape):
    item = text(200, least=1)
    tank = uuid()
    until = instant()
    why = text(400, least=1)
    by = text(40, null=True)


class DueRule(Shape):
    name = name()
    title = text(60, null=True)
    asks = one_of("purge", "reading", "look")
    after = one_of(*BATCH_EVENTS)
    contact = flag()
    wait = quantity("days", 0, 400)
    within = quantity("days", 0, 400, above=True)
    every = quantity("days", 0, 400, above=True, null=True)
    again = quantity("times", 0, 3)
    solids = one_of(*SOLIDS, null=True)
    off = flag()


class ShiftNote(Shape):
    says = text(1000, least=1)
    by = text(40, null=True)
    done = instant(null=True)


class WalkingOrder(Shape):
    tanks = Many("tanks", uuid(), {"most": str(MOST_TANKS)}, maxItems=MOST_TANKS)


class CostBasis(Shape):
    beer_value = text(LONGEST_TEXT, null=True)
    gas_price = text(LONGEST_TEXT, null=True)
    wage = text(LONGEST_TEXT, null=True)
    currency = text(LONGEST_SIGN, least=1)
    since = instant(null=True)
    until = instant(null=True)


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


class CopiedFrom(Shape):
    list = name()
    version = hexadecimal(8)


class SiteChecklist(Shape):
    title = text(LIST["title"], least=1)
    condition = text(LIST["condition"], least=1)
    completion = text(LIST["completion"], least=1)
    language = language()
    based_on = text(120, null=True, required=False)
    copied_from = One(CopiedFrom, required=False)
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
    "batch": Batch(), "batch-event": BatchEvent(), "tank-reading": TankReading(), "postponement": Postponement(),
    "due-rule": DueRule(), "shift-note": ShiftNote(),
    "walking-order": WalkingOrder(), "cost-basis": CostBasis(),
}
