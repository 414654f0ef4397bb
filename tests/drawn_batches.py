"""Batches, their events and what was done about them, drawn at random: near changes of clocks, at one instant."""

from datetime import UTC, datetime, timedelta

from cases import ODD_TEXTS
from tankfoot.batches.life import changes_of
from tankfoot.batches.rules import default_rules, events
from tankfoot.batches.wall_clock import ZONES, days_after, start_of_day
from tankfoot.record.bodies import BATCH_EVENTS

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
# Changes of clocks: Berlin and London, New York, Los Angeles, Lord Howe, Auckland, others; a leap day, a year's end.
CHANGES = [datetime.fromisoformat(text).replace(tzinfo=UTC) for text in (
    "2026-03-29T01:00", "2026-10-25T01:00", "2026-03-08T07:00", "2026-11-01T06:00", "2026-11-01T09:00",
    "2026-04-04T15:00", "2026-10-03T15:30", "2026-04-04T14:00", "2026-09-26T14:00", "2026-04-05T03:00",
    "2018-11-04T03:00", "2024-02-28T23:00", "2031-12-31T23:59", "2026-07-01T12:00",
)]
AMOUNTS = {"tank_volume": ("20 bbl", "30 hL ± 50 L", "1200 L"), "bucket_volume": ("10 gal", "40 L ± 10 %", "5"),
           "solids_mass": ("4 kg", "11 lb ± 1 lb", "900 g")}
NAMES = ("FV 1", "", "a, b; c\\d", "Gärtank " * 12, "麦" * 40, "😀" * 30, "x" * 60, "half \ud83d", "\ude00",
         "two\r\nlines\rand\nmore", "\t\x00\x7f\x85\u2028", "{tank} $& {asks}", "e\u0301" * 30)
READINGS = (None, "12 psi", "0,9 bar", "36 °F", "2", "12 °P", "1.010", "1.012 SG", "3 bbl", "-1e13 psi", "")


def moment(rng):
    """A whole number of ms within days of a change of clocks."""
    near = rng.choice(CHANGES) + timedelta(days=rng.choice((0, 0, -1, -3, rng.uniform(-20, 20))))
    minutes, ms = rng.choice((0, -1, 30, -30, 60, rng.randint(-300, 300))), rng.choice((0, 0, -1, 1, 999))
    return (near + timedelta(minutes=minutes, milliseconds=ms) - EPOCH) // timedelta(milliseconds=1)


def instant(rng):
    return written(moment(rng))


def of_a_month(rng):
    return f"2026-03-{rng.randint(1, 31):02d}T{rng.choice(('06', '23')):s}:00:00.000Z"


def written(ms):
    return (EPOCH + timedelta(milliseconds=ms)).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def event(rng, at=of_a_month, batches=("a", "b")):
    name = rng.choice(BATCH_EVENTS)
    kind = events()[name]["amount"]
    body = {
        "batch": rng.choice(batches), "tank": "t", "tank_name": "FV 1", "event": name, "at": at(rng),
        "note": None, "by": None,
        "amount": rng.choice((*AMOUNTS[kind], None)) if kind else None,
        "days": rng.choice((None, 0.0, 2.0, 3.5)) if events()[name]["days"] else None,
    }
    return {"id": f"{rng.randrange(1000)}", "kind": "batch-event", "deleted": False, "body": body}


def of_a_tank(rng):
    return [event(rng, batches=rng.choice((("a",), ("a", "b")))) for _ in range(rng.randint(0, 12))]


def losses(rng):
    known = [{"value": rng.uniform(0.0, 0.3), "uncertainty": rng.choice((None, 0.01))} for _ in range(3)]
    return [rng.choice((None, *known)) for _ in range(rng.randint(0, 4))]


def rule(rng, name):
    plain = rng.choice(default_rules())
    return plain | {
        "name": name, "asks": rng.choice(("purge", "reading", "look")), "after": rng.choice(("cooled", "dry-hopped")),
        "wait": rng.choice((0.0, 1.0, 2.5)), "within": rng.choice((0.5, 1.0, 3.0)),
        "every": rng.choice((None, 1.0, 2.0, 3.0)), "again": rng.choice((0.0, 1.0, 2.0)),
        "contact": rng.random() < 0.5, "off": rng.random() < 0.2,
    }


def stay(rng):
    """[what is in a tank, rules, now, zone], all of it about one time."""
    near, zone = moment(rng), rng.choice(ZONES)
    about = sorted(written(near + rng.choice((0, rng.randint(-20, 5))) * 86_400_000 + rng.choice((0, 1, 3_600_000)))
                   for _ in range(40))
    acts = [{"id": f"p{place}", "at": at} for place, at in enumerate(about)]
    story = [{"id": f"e{place}", "event": rng.choice(("cooled", "dry-hopped", "finished")), "at": at,
              "days": rng.choice((None, 1.0, 3.0))} for place, at in enumerate(sorted(rng.sample(about, 3)))]
    rules = rng.choice((default_rules(), [rule(rng, name) for name in ("trub", "cold", "own")]))
    keys = [f"{rng.choice(rules)['name']}.{rng.choice(story)['id']}" for _ in range(rng.randint(0, 3))]
    put_off = {key: rng.choice(about) for key in keys}
    what = {
        "tank": "t", "batch": "b", "events": story, "held": rng.random() < 0.2, "postponed": put_off,
        "purges": in_order(rng, acts), "readings": in_order(rng, acts),
        "every": rng.choice((None, None, 86400.0, 302400.5)), "last": rng.choice(acts),
    }
    return [what, rules, rng.choice(about), zone]


def in_order(rng, acts):
    return sorted(rng.sample(acts, rng.randint(0, 5)), key=lambda act: act["at"])


def tank_and_told(rng):
    """[a tank, what was told of it], the batch at times in another tank before."""
    tank = {"id": "t", "created": of_a_month(rng), "body": {"purge_every": rng.choice((None, 86400.0))}}
    elsewhere = [event(rng) for _ in range(rng.randint(0, 4))]
    for each in elsewhere:
        each["body"] |= {"tank": rng.choice(("t", "u")), "event": rng.choice(("cooled", "finished", "filled"))}
    purges = [{"id": f"p{place}", "created": of_a_month(rng), "deleted": rng.random() < 0.2, "body": {
        "state": rng.choice(("saved", "saved", "flowing")), "events": [{"at": of_a_month(rng)}] * rng.randint(0, 1),
    }} for place in range(rng.randint(0, 4))]
    readings = [{"id": f"r{place}", "deleted": rng.random() < 0.2, "body": {
        "at": of_a_month(rng), "pressure": rng.choice((None, "12 psi")),
    }} for place in range(rng.randint(0, 4))]
    postponed = [{"id": f"q{place}", "edited": of_a_month(rng), "deleted": rng.random() < 0.2, "body": {
        "item": rng.choice(("trub.e", "cold.e")), "until": of_a_month(rng),
    }} for place in range(rng.randint(0, 3))]
    events_of_it = [each | {"deleted": rng.random() < 0.1} for each in of_a_tank(rng)]
    return [tank, {"events": events_of_it, "elsewhere": elsewhere, "purges": purges, "readings": readings,
                   "postponed": postponed, "held": rng.random() < 0.2}]


def items(rng):
    return [{"state": rng.choice(("overdue", "due", "later", "done")), "tank": rng.choice(("FV 1", "FV 2", "gone")),
             "from": of_a_month(rng), "key": f"{rng.randrange(9)}"} for _ in range(rng.randint(0, 9))]


def due_item(rng):
    """An item that is due, of any rule and for any reason that there are words for."""
    code = rng.choice((*BATCH_EVENTS, "again", "returns", "every"))
    days = [0.02, 0.5, 0.99, 1.0, 1.04, 1.5, 3.0, 3.5000001, 21.0, 11574.074074074075]
    if code in BATCH_EVENTS:
        days.append(0.0)
    names = ("trub", "old-solids", "every", "own-rule", "constructor", "to-string")
    why = {"code": code, "at": instant(rng), "days": rng.choice(days)}
    return {"rule": rng.choice(names), "why": why}


def due_item_and_rule(rng):
    item = due_item(rng)
    return [item, rng.choice((None, rule(rng, item["rule"]) | {"title": rng.choice((None, "", "Look, again; now"))}))]


def for_a_calendar(rng):
    """[items, rules, names, now, zone] of a cellar whose tanks and beers have odd names."""
    zone, rules = rng.choice(ZONES), [rule(rng, name) for name in ("trub", "own-rule", "old-solids")]
    due = [due_item(rng) | {
        "key": f"trub.{rng.randrange(99)}", "tank": rng.choice(("t", "u")),
        "batch": rng.choice((None, "b", "constructor")), "state": rng.choice(("overdue", "due", "later", "done")),
    } for _ in range(rng.randint(0, 4))]
    for item in due:
        begin, span = instant(rng), rng.choice((0.0, 1e-9, 0.5, 1.0, 2.0))
        begin = rng.choice((begin, start_of_day(begin, 0.0, zone)))
        item |= {"from": begin, "until": days_after(begin, span, zone)}
    names = {"t": rng.choice(NAMES), "b": rng.choice(NAMES)} | rng.choice(({}, {"u": "FV 2"}))
    return [due, rules, names, instant(rng), zone]


def rules_of_the_record(rng):
    names = ("trub", "gauge", "own-2", "own-1", "constructor")
    return [{
        "id": f"{rng.randrange(99)}", "edited": of_a_month(rng), "deleted": rng.random() < 0.2,
        "body": rule(rng, rng.choice(names)),
    } for _ in range(rng.randint(0, 6))]


def batch_event_of_the_record(rng):
    body = event(rng)["body"]
    return body | {"amount": rng.choice((body["amount"], *READINGS, *ODD_TEXTS))}


def reading_of_the_record(rng):
    names = ("pressure", "temperature", "gravity", "topped_up")
    return {name: rng.choice((*READINGS, rng.choice(ODD_TEXTS))) for name in names}


def changes_and_instant(rng):
    return [changes_of(of_a_tank(rng)), of_a_month(rng)]


def price(rng):
    text = rng.choice((None, "150 $/bbl", "0,45 $/kg", "24 $/h", "1e13 $/h", "2 $/L ± 5 %", rng.choice(ODD_TEXTS)))
    return ["price", text, rng.choice((["wage"], ["beer_value"], ["gas_price", "wage"]))]


def basis_of_the_record(rng):
    return {name: price(rng)[1] for name in ("beer_value", "gas_price", "wage")}


DRAWN = {
    "basis of the record": basis_of_the_record,
    "instant near a change of clocks": instant,
    "milliseconds near a change of clocks": moment,
    "instant of a month": of_a_month,
    "events of a tank": of_a_tank,
    "losses": losses,
    "items of some tanks": items,
    "rules of the record": rules_of_the_record,
    "batch event of the record": batch_event_of_the_record,
    "reading of the record": reading_of_the_record,
    "item that is due": due_item,
}
ARGUMENTS = {"stay of a batch": stay, "changes of a tank and an instant": changes_and_instant,
             "what was typed as a price": price, "tank and what was told of it": tank_and_told,
             "item that is due and its rule": due_item_and_rule, "items for a calendar": for_a_calendar}
