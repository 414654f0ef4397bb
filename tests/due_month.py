"""An invented month in an invented cellar, and what a hand would say is due in it, written by hand: no code made it.

Times are those of the clock on the wall in Berlin, March 2026; on the 29th the clocks leap from 02:00 to 03:00.
"""

import json
from datetime import datetime
from zoneinfo import ZoneInfo

from cellar import entry, id_of, tank
from records import current, sealed

ZONE = "Europe/Berlin"
TIMES = ("06:00", "14:00", "22:00")
TEN_DAYS = 864000.0

# What happened: when, in which tank, what; of batches: which, and for how many days.
STORY = [
    ("02-27 10:00", "FV 1", "filled", "Helles"), ("02-28 09:00", "FV 1", "fermenting", "Helles"),
    ("03-01 18:00", "FV 1", "purge"),
    ("03-03 11:00", "FV 2", "filled", "Pale Ale"), ("03-04 07:00", "FV 2", "fermenting", "Pale Ale"),
    ("03-04 15:00", "FV 2", "purge"),
    ("03-06 10:00", "FV 2", "held", "03-08 10:00"),
    ("03-06 15:00", "FV 1", "finished", "Helles"),
    ("03-08 12:00", "FV 10", "filled", "Kriek"), ("03-09 13:00", "FV 10", "fermenting", "Kriek"),
    ("03-10 08:00", "FV 1", "harvested", "Helles"), ("03-10 11:00", "FV 1", "purge"),
    ("03-11 07:00", "FV 10", "purge"),
    ("03-12 16:00", "FV 1", "cooled", "Helles"),
    ("03-14 08:00", "FV 1", "reading"), ("03-14 10:00", "FV 2", "finished", "Pale Ale"),
    ("03-16 07:00", "FV 1", "purge"), ("03-16 12:00", "FV 10", "fruit-in", "Kriek", 5.0),
    ("03-17 09:00", "FV 1", "reading"),
    ("03-18 08:00", "FV 2", "purge"),
    ("03-19 08:00", "FV 1", "reading"), ("03-19 08:01", "FV 1", "put off", "cold", "03-16 07:00", "03-20 06:00"),
    ("03-21 09:00", "FV 1", "purge"), ("03-21 09:05", "FV 1", "reading"),
    ("03-22 08:00", "FV 10", "purge"),
    ("03-24 10:00", "FV 1", "emptied", "Helles"),
    ("03-25 12:00", "FV 10", "cooled", "Kriek"), ("03-25 17:00", "FV 10", "purge"),
    ("03-26 03:00", "FV 2", "dry-hopped", "Pale Ale", 3.0),
    ("03-26 09:00", "FV 10", "moved-out", "Kriek"), ("03-26 09:00", "FV 1", "moved-in", "Kriek"),
    ("03-27 20:00", "FV 2", "cooled", "Pale Ale"),
    ("03-28 20:00", "FV 1", "reading"),
    ("03-29 08:00", "FV 2", "reading"),
    ("03-30 09:00", "FV 2", "purge"),
    ("03-31 16:00", "FV 2", "purge"),
]
NOTHING = None
# From which of the moments on a rule's item stands how, NOTHING: the rule asks for nothing; before the first, nothing.
# Of a rule that asks more than once it is the item that is not done yet, "done" where all are.
CALENDAR = {
    ("FV 1", "trub"): [
        ("01 06:00", "due"),  # fermentation was going on 28 February at 09:00: from then, for a day
        ("01 14:00", "overdue"),  # since 09:00
        ("01 22:00", "done"),  # purged at 18:00
        ("24 14:00", NOTHING),  # emptied at 10:00
    ],
    ("FV 1", "yeast"): [
        ("10 14:00", "done"),  # harvested at 08:00, the rest purged at 11:00, before the next look at 14:00
        ("24 14:00", NOTHING),
    ],
    ("FV 1", "old-solids"): [
        ("06 22:00", "later"),  # fermentation ended at 15:00, and is left three days
        ("09 22:00", "due"),  # since 15:00; a hint is never overdue
        ("10 14:00", "done"),  # purged at 11:00
        ("24 14:00", NOTHING),
    ],
    ("FV 1", "cold"): [
        ("12 22:00", "later"),  # cooled on the 12th: three days later is the 15th, the whole day
        ("15 06:00", "due"),  # the 15th and the 16th
        ("16 14:00", "later"),  # purged on the 16th at 07:00: again on the 19th
        ("19 06:00", "due"),
        ("19 14:00", "later"),  # put off at 08:01 until the 20th, 06:00
        ("20 06:00", "due"),  # from then with its whole two days, so not overdue on the 21st at 06:00
        ("21 14:00", "later"),  # purged at 09:00: again on the 24th
        ("24 06:00", "due"),
        ("24 14:00", NOTHING),  # emptied
        ("26 14:00", "later"),  # a cold beer came in on the 26th: three days later is the 29th
        ("29 06:00", "due"),  # the 29th, an hour shorter, and the 30th
        ("31 06:00", "overdue"),
    ],
    ("FV 1", "gauge"): [
        ("12 22:00", "later"),  # cooled on the 12th: read it on the 14th
        ("14 06:00", "due"),
        ("14 14:00", "later"),  # read at 08:00: again on the 16th
        ("16 06:00", "due"),
        ("17 06:00", "overdue"),  # nobody read it on the 16th
        ("17 14:00", "later"),  # read at 09:00: again on the 19th
        ("19 06:00", "due"),
        ("19 14:00", "later"),  # read at 08:00: again on the 21st
        ("21 06:00", "due"),
        ("21 14:00", "later"),  # read at 09:05: again on the 23rd
        ("23 06:00", "due"),
        ("24 06:00", "overdue"),
        ("24 14:00", NOTHING),
        ("26 14:00", "later"),  # the cold beer that came in: read it on the 28th
        ("28 06:00", "due"),
        ("28 22:00", "later"),  # read at 20:00: again on the 30th
        ("30 06:00", "due"),
        ("31 06:00", "overdue"),
    ],
    ("FV 2", "trub"): [
        ("04 14:00", "due"),  # fermentation going at 07:00
        ("04 22:00", "done"),  # purged at 15:00
        ("06 14:00", NOTHING),  # out of use since 10:00: nobody opens its port
        ("08 14:00", "done"),  # in use again since 10:00
    ],
    ("FV 2", "old-solids"): [
        ("14 14:00", "later"),  # ended at 10:00
        ("17 14:00", "due"),  # three days later, since 10:00
        ("18 14:00", "done"),  # purged at 08:00
    ],
    ("FV 2", "hops"): [
        ("26 06:00", "later"),  # in at 03:00 for three days
        ("29 06:00", "due"),  # since 03:00, which comes right after 01:59 that night
        ("30 06:00", "overdue"),  # since 03:00
        ("30 14:00", "later"),  # purged at 09:00: again on the day after
        ("31 06:00", "due"),
        ("31 22:00", "done"),  # purged at 16:00
    ],
    ("FV 2", "cold"): [
        ("27 22:00", "later"),  # cooled on the 27th: three days later is the 30th
        ("30 06:00", "due"),
        ("30 14:00", "later"),  # purged at 09:00, and again on the 31st
    ],
    ("FV 2", "gauge"): [
        ("27 22:00", "later"),  # cooled on the 27th: read it on the 29th
        ("29 06:00", "due"),
        ("29 14:00", "later"),  # read at 08:00: again on the 31st
        ("31 06:00", "due"),
    ],
    ("FV 10", "every"): [
        ("01 06:00", "overdue"),  # every ten days, never purged since it was entered on 1 February
        ("08 14:00", "later"),  # filled on the 8th at 12:00: that counts anew; purged on the 11th at 07:00
        ("21 14:00", "due"),  # ten days after the purge, since 07:00, for a day
        ("22 14:00", "later"),  # purged at 08:00, and on the 25th
        ("26 14:00", NOTHING),  # moved out at 09:00
    ],
    ("FV 10", "trub"): [
        ("09 14:00", "due"),  # fermentation going at 13:00
        ("10 14:00", "overdue"),  # since 13:00
        ("11 14:00", "done"),  # purged at 07:00
        ("26 14:00", NOTHING),
    ],
    ("FV 10", "fruit"): [
        ("16 14:00", "later"),  # in at 12:00 for five days
        ("21 14:00", "due"),  # since 12:00
        ("22 14:00", "later"),  # purged at 08:00: again on the day after
        ("23 06:00", "due"),
        ("24 06:00", "overdue"),
        ("25 22:00", "done"),  # purged at 17:00
        ("26 14:00", NOTHING),
    ],
    ("FV 10", "cold"): [("25 14:00", "later"), ("26 14:00", NOTHING)],  # cooled on the 25th: the 28th, but it moved
    ("FV 10", "gauge"): [("25 14:00", "later"), ("26 14:00", NOTHING)],
}


def instant(wall, zone=ZONE, year=2026):
    """The instant, as the record writes it, at which the clock of a zone shows "03-29 03:00"."""
    shown = datetime.fromisoformat(f"{year}-{wall.replace(' ', 'T')}").replace(tzinfo=ZoneInfo(zone))
    return shown.astimezone(ZoneInfo("UTC")).strftime("%Y-%m-%dT%H:%M:%S.000Z")


def purge_id(of, wall):
    return id_of(f"{of} purge {wall}")


def tanks(**every):
    made = [tank(name, purge_every=every.get(name.replace(" ", ""))) for name in ("FV 10", "FV 2", "FV 1")]
    return [each | {"created": "2026-02-01T00:00:00.000Z", "edited": "2026-02-01T00:00:00.000Z"} for each in made]


def told(what, year=2026, zone=ZONE):
    """The entry of one line of a story."""
    wall, of, kind, *more = what
    at, here = instant(wall, zone, year), {"tank": id_of(of), "tank_name": of}
    if kind == "purge":
        return entry("purge", purge_id(of, wall), at, here | {
            "solids": "mixed", "table": "2", "initials": None, "state": "saved", "readings": {}, "gas_shut": None,
            "events": [{"at": at, "state": "finish", "event": "save"}],
            "result": {}, "agree": None, "notes": "", "photo": None,
        })
    if kind == "reading":
        body = here | {"at": at, "pressure": "0.8 bar", "temperature": None, "gravity": None, "topped_up": None}
        return entry("tank-reading", id_of(f"{of} reading {wall}"), at, body | {"by": None})
    if kind == "held":
        lifted = instant(more[0], zone, year)
        return entry("tank-hold", id_of(f"{of} hold {wall}"), at, {
            "tank": id_of(of), "why": "valve-leaks", "note": "", "by": None, "purge": None, "lifted": lifted,
            "lifted_by": "AB", "lifted_why": "New seal.",
        }, edited=lifted)
    if kind == "put off":
        rule, since, until = more
        return entry("postponement", id_of(f"{of} put off {wall}"), at, {
            "item": f"{rule}.{purge_id(of, since)}", "tank": id_of(of), "until": instant(until, zone, year),
            "why": "No hose free.", "by": None,
        })
    batch, *days = more
    return entry("batch-event", id_of(f"{of} {kind} {wall}"), at, here | {
        "batch": id_of(batch), "event": kind, "at": at, "amount": None, "days": days[0] if days else None,
        "note": None, "by": None,
    })


def batches(*names, created="2026-02-01T00:00:00.000Z"):
    return [entry("batch", id_of(name), created, {"beer": name, "notes": None}) for name in names]


def month():
    """All entries of the month."""
    return [*tanks(FV10=TEN_DAYS), *batches("Helles", "Pale Ale", "Kriek"), *map(told, STORY)]


def export(folder, entries, name="phone.json", made="2026-04-01T00:00:00.000Z"):
    """The path of an export file with these ``entries``."""
    path = folder / name
    path.write_text(json.dumps(sealed(current() | {"entries": entries, "made": made})), encoding="utf-8")
    return path


def moments():
    return [f"03-{day:02d} {time}" for day in range(1, 32) for time in TIMES]


def expected(wall):
    """{(tank, rule): state} of a moment, by the calendar."""
    shown = {}
    for key, changes in CALENDAR.items():
        before = [state for since, state in changes if f"03-{since}" <= wall]
        if before and before[-1] is not NOTHING:
            shown[key] = before[-1]
    return shown
