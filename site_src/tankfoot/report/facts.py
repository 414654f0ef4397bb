"""What a report takes of a purge: a few names and numbers, so that years of purges fit into a phone.

Facts are kept as columns, {name: one value a purge}: a number nobody told is None, or NaN in a column of floats.
"""

import math
from datetime import datetime
from itertools import pairwise

from tankfoot.purge.clock import was_set_back
from tankfoot.purge.times import in_run, times_of
from tankfoot.record.age import OLD
from tankfoot.report.exact import exact_sum

AMOUNTS = {  # the amounts of a fact, and the results of a purge that they are
    "volume_lost": "volume_lost", "overrun": "overrun", "solids": "solids", "beer_in_solids": "beer_in_solids",
    "co2_mass": "top_up_mass", "beer_money": "money_lost",
}
COLUMNS = (
    "id", "at", "created", "demo", "tank", "tank_name", "kind", "batch", "tool", "assumed", "run", "past", "seconds",
    "watched", "tapped", "seen",
    *(column for name in AMOUNTS for column in (name, f"{name}_doubt")),
)
ELSEWHERE = ("flow", "collected_mass", "collected_volume")  # read with no gauge of the tank


def fact_of(purge, batch):
    """The fact of a finished ``purge``, an entry; ``batch``: the id of what was in its tank, None where nobody said.

    "run": seconds that the port was open; "past": seconds past the colour change, None where there was none;
    "seconds": of the hand's time. "watched": whether a camera watched; "tapped" and "seen": seconds from opened to the
    colour change by the hand and by the camera. "tool": what the volume was measured with, the tank's own gauge (the
    tank's id) or what all tanks share (""). "assumed": whether nobody measured the beer in the solids. "demo": of the
    invented brewery. Amounts in SI, each with its ± ("_doubt"), None where it tells none.

    >>> body = {"tank": "t", "tank_name": "FV 1", "solids": "trub", "events": [], "readings": {"flow": "5 gal/min"},
    ...         "result": {"volume_lost": {"value": 0.02, "uncertainty": 0.001}}}
    >>> fact = fact_of({"id": "p", "created": "2026-03-01T07:00:00.000Z", "demo": False, "body": body}, None)
    >>> fact["volume_lost"], fact["volume_lost_doubt"], fact["overrun"], fact["tool"], fact["assumed"]
    (0.02, 0.001, None, '', True)
    """
    body = purge["body"]
    events, readings, result = body["events"], body["readings"], body["result"]
    times = times_of(body)
    run, past = times["run"], times["past"]
    is_known = run is not None and not was_set_back(run, past)
    fact = {
        "id": purge["id"], "at": times["opened"] or purge["created"],
        "created": purge["created"], "demo": purge["demo"],
        "tank": body["tank"], "tank_name": body["tank_name"], "kind": body["solids"], "batch": batch,
        "tool": "" if any(readings.get(name) for name in ELSEWHERE) else body["tank"] or "",
        "assumed": not readings.get("beer_share"),
        "run": run if is_known else None, "past": past if is_known and times["change"] is not None else None,
        "seconds": hands_seconds(events), "watched": bool(body.get("watched")),
        "tapped": in_run(times["tapped"], run), "seen": in_run(times["seen"], run),
    }
    for name, told in AMOUNTS.items():
        amount = result.get(told)
        fact[name] = amount["value"] if amount else None
        fact[f"{name}_doubt"] = amount["uncertainty"] if amount else None
    return fact


def hands_seconds(events):
    """The seconds that a hand was at a purge: between its taps, but for pauses of half an hour and more.

    None of fewer than two taps. A clock that was set back between two of them tells nothing of that time.

    >>> hands_seconds([{"at": f"2026-03-01T0{time}:00.000Z"} for time in ("7:00", "7:02", "8:00", "8:01")])
    180.0
    """
    if len(events) < 2:
        return None
    times = [datetime.fromisoformat(event["at"]) for event in events]
    pauses = [(after - before).total_seconds() for before, after in pairwise(times)]
    return exact_sum(pause for pause in pauses if 0.0 < pause < OLD)


def as_columns(facts):
    """``facts`` as columns, all of them there where there is no fact.

    >>> as_columns([])["run"]
    []
    """
    return {name: [fact[name] for fact in facts] for name in COLUMNS}


def is_told(value):
    """Whether a value of a column was told.

    >>> is_told(0.0), is_told(None), is_told(math.nan)
    (True, False, False)
    """
    return value is not None and math.isfinite(value)


RANGES = {
    "fact_of": ["purge to report", ["b", None]],
    "hands_seconds": ["events of a purge"],
    "as_columns": ["facts"],
    "is_told": [[None, 0.0, -1.0, 1e12]],
}
