"""Writes the record of an invented brewery where the app serves it: the same to the byte every time it is run."""

import math
import random
import statistics
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

from batches import at_time, drawn_from, entries_of, stories
from invented import FIRST_DAY, entry, in_unit, instant, nine, si
from played import drawn
from tankfoot.office.transfer import export_file
from tankfoot.physics.vessel import cone_height, head_volume, straight_volume
from tankfoot.purge.machine import FIRST, LAST, LATEST, next_state, tables
from tankfoot.purge.outcome import outcome_of
from tankfoot.purge.stack import typical

SEED = 20260302
CAP_WAY = "Invented, ask your own site: a bleed cap. Bleed a quarter turn open, wait for quiet, then the clamp."
RECORD = Path(__file__).parents[1] / "site_src/tankfoot/site/assets/demo/record.json"
AIR = 101325.0  # Pa
SOLIDS_SHARE = 0.065  # of the headspace, before the colour change: makes about two psi at 10 psi
SECONDS_OF_SOLIDS = 60.0  # that a hand wants them to take
# The plan of a batch: days after the fill, what is purged, the beer's temperature in °F.
BATCH = ((2, "trub", 64), (6, "yeast", 62), (11, "hops", 52), (15, "mixed", 35))
# Shape of each tank: diameter, straight height, depth of the head (m), cone (°), bore (mm), hold and rated
# (psi), share filled, days from the first day to the first fill, days a batch takes, days between purges: on the last
# day and all through the one after it, Sample 2 and Sample 3 are due and no other.
TANKS = (
    ("Sample 1", 0.90, 1.20, 0.00, 60.0, 38.1, 10.0, 15.0, 0.82, 0, 26, 4),
    ("Sample 2", 0.90, 1.20, 0.15, 60.0, 38.1, 10.0, 15.0, 0.84, 4, 27, 3),
    ("Sample 3", 1.20, 1.50, 0.20, 70.0, 50.8, 10.0, 15.0, 0.85, 1, 28, 3),
    ("Sample 4", 1.50, 2.00, 0.25, 70.0, 50.8, 11.0, 15.0, 0.83, 8, 29, 14),
    ("Sample 5", 1.80, 2.20, 0.30, 90.0, 76.2, 9.0, 14.5, 0.80, 3, 30, 14),
    ("Sample 6", 2.10, 2.50, 0.35, 65.0, 76.2, 12.0, 30.0, 0.86, 10, 31, 7),
)
LAST_WEEK = 13
HALF_DONE = ("Sample 4", "mixed", 35, 6)  # on the last day: tank, solids, °F, seconds past the colour change
LEFT_AT = "rest"  # the stack stays on, flow valve open to the hose
# The round of the last day: its tanks, why one is left out, what a gauge read in passing.
ROUND = {"Sample 1": "Its hose is at Sample 4.", "Sample 2": None, "Sample 3": None, "Sample 4": None}
READ_IN_PASSING = ("Sample 3", "9.5 psi")
# Seconds past the colour change, from week to week (first week, usual, spread).
OVERRUNS = ((0, 31.0, 6.0), (4, 20.0, 5.0), (6, 12.0, 4.0), (8, 9.0, 3.0), (11, 5.0, 1.5))
BEER_SHARES = {12: "42 %", 40: "55 %", 66: "36 %"}  # by the number of the purge: a sample was left to settle
NEW_HAND = (8, 27.0, "New hand on the valve, first time alone. Went over the sight glass together.")
NOTES = {
    5: "Shut it when the glass went clear. Nobody had looked at the glass before.",
    20: "Started counting aloud from the colour change.",
    33: "Stood at the glass this time, not at the bin.",
    48: "Shut in two steps: half at the first streaks, the rest at the change.",
    60: "Less than a bucket of beer now.",
}
MISTYPED = 13  # the number of the purge whose reading was typed wrong and corrected the day after
EXTRA = -1  # the number of each purge that the story of the batches adds
STRAY = 29  # after this one a purge was begun by mistake and deleted
# What goes another way than the straight one, by the number of the purge: {state: (event, reason)}.
DETOURS = {
    9: {"rinse": ("skip", "Hose was needed next door; rinsed after lunch.")},
    17: {"gate-clamp": ("tank-side", None)},
    26: {"topup": ("skip", "Gas bottle empty, topped up an hour later.")},
    41: {"flowing": ("trouble", None)},
}
SECONDS_OTHERWISE = 15
SECONDS_AT = {
    "choose": 20, "ready": 70, "sanitise": 40, "contact": 60, "pressure": 35, "gas": 20, "margin": 10,
    "hookup": 90, "run": 12, "after": 150, "result": 25, "gate-valve": 12, "gate-pressure": 25, "gate-count": 34,
    "gate-cap": 15,
    "gate-clamp": 15, "gate-wrong": 20, "takedown": 60, "rinse": 80, "cap": 30, "topup": 150, "finish": 20,
}


@dataclass
class Tank:
    """A tank as the script goes along: its entry, what it holds (m3), the overruns of its past purges."""

    entry: dict
    volume: float
    filled: float
    first_fill: int
    batch_days: int
    overruns: list[float] = field(default_factory=list)


def tank(rng, row):
    """One Tank of the table."""
    name, diameter, straight, depth, angle, bore, hold, rated, filled, first_fill, batch_days, every = row
    volume = straight_volume(diameter, cone_height(diameter, math.radians(angle)), straight)
    volume += head_volume(diameter, depth)
    body = {
        "name": name, "stack": typical()["usual"], "cap_way": CAP_WAY,
        "diameter": diameter, "straight_height": straight,
        "cone_angle": nine(math.radians(angle)), "head_depth": depth, "head_volume": None,
        "bore": nine(bore / 1000.0), "arm_height": nine(diameter / 3.0),
        "rated_pressure": nine(si(rated, "psi")), "hold_pressure": nine(si(hold, "psi")),
        "floor_pressure": nine(si(2.0, "psi")), "beer_volume": nine(volume * filled),
        "temperature": nine(si(64.0, "°F")), "pressure": nine(si(hold, "psi")), "purge_every": every * 86400.0,
    }
    made = entry(rng, "tank", FIRST_DAY - timedelta(days=1, minutes=rng.randint(0, 200)), body)
    return Tank(made, volume, filled, first_fill, batch_days)


def plan(rng, tanks):
    """(moment, tank, solids, °F), in the order of time."""
    found = []
    for one in tanks:
        for fill in range(one.first_fill, LAST_WEEK * 7, one.batch_days):
            for days, solids, temperature in BATCH:
                moment = FIRST_DAY + timedelta(days=fill + days, seconds=rng.randint(0, 7 * 3600))
                if fill + days < LAST_WEEK * 7:
                    found.append((moment, one, solids, temperature))
    return sorted(found, key=lambda planned: planned[0])


def seconds_past(rng, week):
    """How long the crew lets it run past the colour change in that week."""
    _, usual, spread = [row for row in OVERRUNS if row[0] <= week][-1]
    return round(max(1.5, rng.gauss(usual, spread)))


def walk(moment, detours, times, until=LAST):
    """The events of one purge, by the table: the first way on from each step, but for the ``detours``."""
    events, state, detours = [], FIRST, dict(detours)
    while state != until:
        event, reason = detours.pop(state, (next(iter(tables()[LATEST][state].events)), None))
        moment += timedelta(seconds=times.get(state, SECONDS_OTHERWISE))
        data = {"data": {"reason": reason}} if reason else {}
        before = [each["event"] for each in events]
        events.append({"at": instant(moment), "state": state, "event": event, **data})
        state = next_state(state, event, before)
    return events, moment


def purge(rng, number, moment, one, solids, temperature, overrun):
    """The entry of one purge; the tank is left as the purge leaves it."""
    body = one.entry["body"]
    if solids == BATCH[0][1]:
        body["beer_volume"] = nine(one.volume * one.filled)
    wanted = SECONDS_OF_SOLIDS * rng.uniform(0.85, 1.15)
    headspace = one.volume - body["beer_volume"]
    in_cone = SOLIDS_SHARE * headspace * rng.uniform(0.85, 1.15)
    took = drawn(body, AIR, si(temperature, "°F"), solids, in_cone, wanted, overrun, instant(moment))
    readings = readings_of(rng, body, headspace, si(temperature, "°F"), took.gauge)
    if number in BEER_SHARES:
        readings["beer_share"] = BEER_SHARES[number]
    if number % 4 == 0:
        readings["collected_volume"] = f"{in_unit(took.lost, 'gal') * rng.gauss(1.0, 0.04):.1f} ± 0.3 gal"
    times = {state: round(seconds * rng.uniform(0.7, 1.5)) for state, seconds in SECONDS_AT.items()}
    events, end = walk(moment, DETOURS.get(number, {}), times | {"flowing": took.until_change, "beer": overrun})
    made = entry(rng, "purge", moment, {
        "tank": one.entry["id"], "tank_name": body["name"], "solids": solids, "table": LATEST, "initials": None,
        "state": LAST, "notes": "",
        "events": events, "gas_shut": True, "photo": None,
        **told(readings, events, one.overruns),
    })
    one.overruns.append(made["body"]["result"]["overrun"]["value"])
    made["edited"] = one.entry["edited"] = instant(end)
    body |= {"beer_volume": nine(body["beer_volume"] - took.lost), "temperature": nine(si(temperature, "°F"))}
    return made


def half_done(rng, one):
    """The purge of the last day: its result is told, and its stack was left on until somebody comes back."""
    _, solids, temperature, overrun = HALF_DONE
    body, moment = one.entry["body"], FIRST_DAY + timedelta(weeks=LAST_WEEK)
    headspace, degrees = one.volume - body["beer_volume"], si(temperature, "°F")
    took = drawn(body, AIR, degrees, solids, SOLIDS_SHARE * headspace, SECONDS_OF_SOLIDS, overrun, instant(moment))
    readings = readings_of(rng, body, headspace, degrees, took.gauge)
    times = SECONDS_AT | {"flowing": took.until_change, "beer": overrun}
    events, end = walk(moment, {"result": (LEFT_AT, None)}, times, LEFT_AT)
    made = entry(rng, "purge", moment, {
        "tank": one.entry["id"], "tank_name": body["name"], "solids": solids, "table": LATEST, "initials": None,
        "state": LEFT_AT, "open": 1, "notes": "", "events": events, "gas_shut": True, "photo": None,
        **told(readings, events, one.overruns),
    })
    return made | {"edited": instant(end)}


def round_of(rng, tanks):
    """The round of the last day, under way: begun before the purge that is half done."""
    moment = FIRST_DAY + timedelta(weeks=LAST_WEEK, minutes=-10)
    ids = {one.entry["body"]["name"]: one.entry["id"] for one in tanks}
    rows = [
        {"tank": ids[name], "tank_name": name, "left_out": why, "pressure": None, "read": None}
        for name, why in ROUND.items()
    ]
    name, pressure = READ_IN_PASSING
    read = moment + timedelta(minutes=4)
    rows[list(ROUND).index(name)] |= {"pressure": pressure, "read": instant(read)}
    made = entry(rng, "round", moment, {"initials": "AB", "tanks": rows, "ended": None, "open": 1})
    return made | {"edited": instant(read)}


def readings_of(rng, body, headspace, temperature, gauge):
    """What the hand types: the gauge to a tenth of a psi."""
    before, rated = in_unit(body["hold_pressure"], "psi"), in_unit(body["rated_pressure"], "psi")
    after = in_unit(gauge, "psi")
    return {
        "headspace": f"{in_unit(headspace, 'bbl'):.2f} bbl",
        "temperature": f"{in_unit(temperature, '°F'):.0f} °F",
        "pressure_found": f"{before - rng.choice((0.0, 0.2, 0.5)):.1f} psi",
        "target_pressure": f"{before:.1f} psi",
        "rated_pressure": f"{rated:.1f} psi",
        "pressure_before": f"{before:.1f} ± 0.1 psi",
        "pressure_after": f"{after + rng.gauss(0.0, 0.04):.1f} ± 0.1 psi",
        "beer_value": "150 $/bbl",
    }


def told(readings, events, past):
    """The readings with what was usual until then, and what a purge tells by them."""
    usual = {"usual_overrun": f"{in_unit(statistics.median(past), 'gal'):.3f} gal"} if past else {}
    found = outcome_of({"events": events, "readings": readings | usual, "gas_shut": True}, "us")
    result = {name: amount(**got) for name, got in found.result.items()}
    return {"readings": readings | usual, "result": result, "agree": found.agree}


def amount(value, uncertainty):
    return {"value": nine(value), "uncertainty": None if uncertainty is None else nine(uncertainty)}


def batches(rng, tanks):
    """The batches of the story with all that happened to them, and the purges it adds. The tanks follow."""
    ones = {one.entry["body"]["name"]: one for one in tanks}
    made = []
    for story in stories():
        one = ones[story["tank"]]
        made += entries_of(rng, story, one.entry, in_unit(one.volume * one.filled, "bbl"))
        made += [
            purge(rng, EXTRA, at_time(story, row), one, row["solids"], row["degrees"], row["past"])
            for row in story.get("purges", [])
        ]
        body = one.entry["body"]
        body["beer_volume"] = nine(body["beer_volume"] - drawn_from(story))
    return made


def mistyped(made, past):
    """The same purge as it stood before a correction: the gauge was typed two psi too low."""
    body = made["body"]
    after = float(body["readings"]["pressure_after"].split()[0])
    readings = body["readings"] | {"pressure_after": f"{after - 2.0:.1f} ± 0.1 psi"}
    wrong = body | told(readings, body["events"], past)
    corrected = instant(datetime.fromisoformat(made["edited"]) + timedelta(days=1, minutes=7))
    return made | {"edited": corrected, "history": [{"edited": made["edited"], "body": wrong}]}


def record():
    """All entries of the invented brewery."""
    rng = random.Random(SEED)
    tanks = [tank(rng, row) for row in TANKS]
    entries = [one.entry for one in tanks]
    for number, (moment, one, solids, temperature) in enumerate(plan(rng, tanks)):
        week = (moment - FIRST_DAY).days // 7
        new_hand = week == NEW_HAND[0] and NEW_HAND[2] not in [each["body"].get("notes") for each in entries]
        overrun = NEW_HAND[1] if new_hand else seconds_past(rng, week)
        past = list(one.overruns)
        made = purge(rng, number, moment, one, solids, temperature, overrun)
        made["body"]["notes"] = NEW_HAND[2] if new_hand else NOTES.get(number, "")
        entries.append(mistyped(made, past) if number == MISTYPED else made)
        if number == STRAY:
            stray = entry(rng, "purge", moment + timedelta(hours=2), {})
            entries.append(stray | {"deleted": True})
    entries += batches(random.Random(SEED + 1), tanks)
    entries.append(half_done(rng, next(one for one in tanks if one.entry["body"]["name"] == HALF_DONE[0])))
    made = entries[-1]["edited"]
    entries.append(round_of(rng, tanks))
    return entries, made


if __name__ == "__main__":
    entries, made = record()
    RECORD.write_text(export_file(entries, "demo", made), encoding="utf-8")
