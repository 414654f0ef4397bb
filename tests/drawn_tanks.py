"""Tanks, what a purge left of them, and runs of checklists drawn at random."""

import math
from datetime import UTC, datetime, timedelta

from tankfoot.checklists import regions
from tankfoot.physics.vessel import cone_height, straight_volume
from tankfoot.quantities.units import KINDS, SYSTEMS, units

LINES = ("cap", "hose", "drain", "gas")
START = datetime(2026, 3, 1, tzinfo=UTC)


def tank(rng):
    """A tank's body: empty, with beer in any part of it, or full to the border of its head."""
    diameter, straight, angle = rng.uniform(0.5, 4.0), rng.uniform(0.1, 5.0), rng.uniform(0.4, math.pi / 2.0)
    full = straight_volume(diameter, cone_height(diameter, angle), straight)
    beer = rng.choice((0.0, full, rng.uniform(0.0, 0.05), rng.uniform(0.0, full), rng.uniform(0.0, 60.0)))
    return {
        "name": "FV 1", "diameter": diameter, "straight_height": straight, "cone_angle": angle, "beer_volume": beer,
        "head_depth": rng.choice((0.0, rng.uniform(0.0, 0.25))), "head_volume": rng.choice((None, None, 0.0, 0.3)),
        "temperature": rng.uniform(270.0, 300.0),
        "pressure": rng.choice((None, 0.0, 0.05, -500.0, rng.uniform(0.0, 2e5))),
        "hold_pressure": rng.choice((None, rng.uniform(0.0, 2e5))),
    }


def finished_purge(rng):
    """The body of a finished purge, topped up or not."""
    names = rng.sample(("opened", "closed", "topped-up", "undo"), rng.randint(0, 4))
    readings = {"pressure_after": rng.choice(("8 psi", "0,6", "x", "")), "target_pressure": rng.choice(("1 bar", "11"))}
    lost = {"volume_lost": {"value": rng.choice((0.02, -0.5, rng.uniform(0.0, 3.0))), "uncertainty": None}}
    return {
        "events": [{"event": name} for name in names],
        "readings": {name: text for name, text in readings.items() if rng.random() < 0.7},
        "result": rng.choice((lost, lost, {})),
    }


def instant(rng):
    made = START + timedelta(milliseconds=rng.randint(-10**9, 10**9))
    return made.strftime("%Y-%m-%dT%H:%M:%S.") + f"{made.microsecond // 1000:03d}Z"


def timed_tanks(rng):
    """Tanks with the time between their purges and the instant of the last, and the instant now."""
    tanks = [
        {"name": f"FV {place}", "every": rng.choice((None, 0.0, 3600.0, rng.uniform(1e4, 1e6))), "since": instant(rng)}
        for place in range(rng.randint(0, 5))
    ]
    return [tanks, START.timestamp() * 1000.0 + rng.choice((0.0, rng.uniform(-1e9, 1e9)))]


def ended_entry(rng):
    return {"created": instant(rng), "body": {"events": [{"at": instant(rng)} for _ in range(rng.randint(0, 3))]}}


def holds(rng):
    """Holds of two tanks, some lifted, some deleted, some made at one instant, none under an id of another."""
    return [
        {
            "id": f"{id}", "created": rng.choice(("2026-03-01", "2026-03-02", instant(rng))),
            "deleted": rng.random() < 0.2,
            "body": {"tank": rng.choice(("FV 1", "FV 2")), "lifted": rng.choice((None, None, "2026-03-03"))},
        }
        for id in rng.sample(range(100, 999), rng.randint(0, 6))
    ]


def values(rng):
    return [rng.choice((1.0, 2.0, rng.uniform(0.0, 30.0))) for _ in range(rng.randint(0, 6))]


def results(rng):
    """Bodies of purges, each with some results."""
    return [
        {"result": {name: amount(rng) for name in ("overrun", "volume_lost") if rng.random() < 0.6}}
        for _ in range(rng.randint(0, 6))
    ]


def amount(rng):
    """A value and its ±: none, as large as itself to the bit, on either side of that."""
    value = rng.choice((1.0, 2.0, 0.0, -1.0, rng.uniform(0.0, 30.0)))
    return {"value": value, "uncertainty": rng.choice((None, abs(value), 0.0, rng.uniform(0.0, 2.0) * abs(value)))}


def ticks(rng):
    """Events of a run of a checklist: done, taken back, skipped with a reason, asked again."""
    reason = rng.choice(({}, {}, {"reason": "none here"}, {"reason": ""}))
    made = rng.choices(LINES, k=rng.randint(0, 9))
    events = [{"line": line, "at": f"{place}", "done": rng.random() < 0.6} | reason for place, line in enumerate(made)]
    aged = rng.choice(("time", "card", None))
    return [event | {"aged": aged} if aged and rng.random() < 0.3 else event for event in events]


def list_run(rng):
    people = {"initials": rng.choice(("AB", "", None)), "second": rng.choice(("AB", "CD", "", None))}
    return {"events": ticks(rng)} | {name: who for name, who in people.items() if rng.random() < 0.8}


def moment(rng):
    """An instant of one morning; now and then two of them lie half an hour apart to the millisecond."""
    return written(START + timedelta(seconds=rng.choice((0.0, 1799.999, 1800.0, rng.uniform(0.0, 7200.0)))))


def written(at):
    return at.strftime("%Y-%m-%dT%H:%M:%S.") + f"{at.microsecond // 1000:03d}Z"


def check_and_since(rng):
    hands = [rng.choice((None, "AB", "CD")) for _ in range(2)]
    return [moment(rng), moment(rng), rng.random() < 0.2, *hands]


def run_and_since(rng):
    body = list_run(rng)
    at = sorted(moment(rng) for _ in body["events"])
    body["events"] = [{**event, "at": when} for event, when in zip(body["events"], at, strict=True)]
    card = rng.choice((None, None, moment(rng), *at[-1:]))
    return [body, moment(rng), rng.choice((None, "AB", "CD")), card]


def text_with_places(rng):
    """A text of a list: places that the region and the units fill in, and some that nothing does."""
    number = rng.choice((f"{rng.uniform(0.0, 9999.0):.{rng.randint(0, 3)}f}", str(rng.randint(0, 9999))))
    unit = rng.choice((*units(), "°C", "°F", "psi"))
    places = (
        "{co2_limits}", "{eyewash}", f"{{{number} {unit}}}", f"{{{number} °F}}", "{5}", "{1 furlong}", "{}", "{{", "}",
    )
    return " ".join(rng.choices((*places, "Shut the valve"), k=rng.randint(0, 4)))


DRAWN = {
    "instant": moment,
    "text with places": text_with_places,
    "region": lambda rng: rng.choice((*regions(), "", "constructor")),
    "units shown": lambda rng: {kind: rng.choice(offers[rng.choice(list(SYSTEMS))]) for kind, offers in KINDS.items()},
    "tank": tank,
    "finished purge": finished_purge,
    "ended entry": ended_entry,
    "holds": holds,
    "values": values,
    "amount": amount,
    "results": results,
    "ticks": ticks,
    "lines": lambda rng: rng.sample(LINES, rng.randint(0, 3)),
    "people asked for": lambda rng: rng.choice(([], ["initials"], ["initials", "second"])),
    "list run": list_run,
}
ARGUMENTS = {
    "tanks and when": timed_tanks,
    "check and what came since": check_and_since,
    "list run and what came since": run_and_since,
}
