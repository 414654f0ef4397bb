"""What many phones exported: files of a brewery each, whose purges differ in every reading, as many as are wanted."""

import random
import re
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from itertools import count

from cellar import entry, id_of, instant, tank
from tankfoot.office.transfer import FORMAT, SCHEMA_VERSION
from tankfoot.purge.machine import FIRST, LAST, LATEST, next_state, tables
from tankfoot.purge.outcome import outcome_of
from tankfoot.record.bodies import SOLIDS
from tankfoot.record.canonical import canonical

SEED = 20261127
TANKS = 10
STAY, EVERY = 20, 3  # days that a batch is in its tank, and from purge to purge of a tank
DAY = datetime(2026, 1, 5, tzinfo=UTC)
DAYS = re.compile(r"2026-01-05(?=T)")  # what a drawn purge is moved by: all of it lies on that day
MARKS = {"id": "@id@", "tank": "@tank@", "tank_name": "@name@"}
KINDS_OF_PURGES = 3000  # drawn and reckoned once, and then moved to other days and tanks


def a_purge(rng):
    """A finished purge of the first day, as canonical text with marks in it."""
    events = walk(rng, DAY + timedelta(hours=6, seconds=rng.randint(0, 40_000)))
    readings = readings_of(rng)
    told = outcome_of({"events": events, "readings": readings, "gas_shut": True}, "us")
    body = {
        "tank": MARKS["tank"], "tank_name": MARKS["tank_name"], "solids": rng.choice(SOLIDS), "table": LATEST,
        "initials": rng.choice((None, "AB", "CD")), "state": LAST, "notes": rng.choice(("", "Clear glass at the end.")),
        "photo": None, "events": events, "readings": readings, "gas_shut": True, "result": told.result,
        "agree": told.agree,
    }
    head = {"id": MARKS["id"], "kind": "purge", "created": events[0]["at"], "edited": events[-1]["at"]}
    return canonical(head | {"deleted": False, "demo": False, "body": body, "history": []})


def walk(rng, moment):
    """The events of a purge: the first way on from each step, but for a skip and a card opened now and then."""
    times = {"flowing": rng.randint(25, 110), "beer": rng.choice((0, rng.randint(1, 45)))}
    other = {"rinse": ("skip", {"data": {"reason": "Hose was needed next door."}})} if rng.random() < 0.05 else {}
    other |= {"flowing": ("trouble", {})} if rng.random() < 0.03 else {}
    events, state = [], FIRST
    while state != LAST:
        event, said = other.pop(state, None) or (next(iter(tables()[LATEST][state].events)), {})
        moment += timedelta(seconds=times.get(state, rng.randint(8, 70)))
        before = [each["event"] for each in events]
        events.append({"at": instant(moment), "state": state, "event": event, **said})
        state = next_state(state, event, before)
    return events


def readings_of(rng):
    readings = {
        "headspace": f"{rng.uniform(1.0, 5.0):.2f} bbl", "temperature": f"{rng.uniform(33.0, 68.0):.1f} °F",
        "pressure_found": f"{rng.uniform(9.0, 10.5):.1f} psi", "target_pressure": "10.0 psi",
        "rated_pressure": "15.0 psi", "pressure_before": f"{rng.uniform(9.8, 10.8):.1f} ± 0.1 psi",
        "pressure_after": f"{rng.uniform(6.0, 9.5):.2f} ± 0.1 psi", "beer_value": f"{rng.randint(120, 180)} $/bbl",
    }
    return readings | ({"beer_share": f"{rng.randint(20, 80)} %"} if rng.random() < 0.3 else {})


def drawn(how_many=KINDS_OF_PURGES):
    """(the time of day it was created, its text) of so many purges."""
    rng = random.Random(SEED)
    texts = [a_purge(rng) for _ in range(how_many)]
    return [(re.search(r'"created":"[^T]+(T[^"]+)"', text)[1], text) for text in texts]


def lines_of(phone, purges, of):
    """The canonical lines of one phone's record, ``purges`` of them of those drawn, by the day they were created."""
    rng, ids = random.Random(f"{SEED} {phone}"), count()

    def new_id():
        return id_of(f"{phone} {next(ids)}")

    tanks = [made("tank", DAY, tank(f"FV {number + 1}")["body"], new_id()) for number in range(TANKS)]
    entries = [*tanks]
    for one in tanks:
        for start in range(0, max(1, purges // TANKS * EVERY), STAY):
            batch, begun = new_id(), DAY + timedelta(days=start)
            filled = {
                "batch": batch, "tank": one["id"], "tank_name": one["body"]["name"], "event": "filled",
                "at": instant(begun), "amount": "12 bbl", "days": None, "note": None, "by": None,
            }
            entries.append(made("batch", begun, {"beer": f"Beer {start // STAY}", "notes": None}, batch))
            entries.append(made("batch-event", begun, filled, new_id()))
    lines = [(entry["created"], entry["id"], canonical(entry)) for entry in entries]
    for number in range(purges):
        one, (time, text) = tanks[number % TANKS], rng.choice(of)
        day, id = f"{DAY + timedelta(days=number // TANKS * EVERY + 1):%Y-%m-%d}", new_id()
        text = DAYS.sub(day, text).replace(MARKS["id"], id, 1).replace(MARKS["tank"], one["id"], 1)
        lines.append((day + time, id, text.replace(MARKS["tank_name"], one["body"]["name"], 1)))
    return [text for _, _, text in sorted(lines)]


def made(kind, moment, body, id):
    return entry(kind, id, instant(moment), body)


def file_of(lines, made="2027-06-01T06:00:00.000Z"):
    """The text of an export file with these canonical ``lines``."""
    entries = ",\n".join(lines)
    summed = sha256(f"[{','.join(lines)}]".encode()).hexdigest()
    head = {
        "format": FORMAT, "schema_version": SCHEMA_VERSION, "app_version": "0", "made": made, "count": len(lines),
        "sha256": summed,
    }
    return "{" + "".join(f"{canonical(key)}:{canonical(value)},\n" for key, value in head.items()) + (
        f'"entries":[\n{entries}\n]}}\n'
    )


def write(folder, files, purges, of):
    """Writes so many ``files`` of so many ``purges``, but for those that are there; their paths."""
    paths = [folder / f"phone-{phone:04d}-{purges}.json" for phone in range(files)]
    for phone, path in enumerate(paths):
        if not path.exists():
            path.write_text(file_of(lines_of(phone, purges, of)), encoding="utf-8")
    return paths
