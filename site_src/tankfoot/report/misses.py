"""What went nearly wrong: told by purges and lists, counted by month and never by person."""

from functools import cache

from tankfoot.batches.wall_clock import wall_text
from tankfoot.purge.machine import SKIP, TROUBLE, standing, tables
from tankfoot.record.canonical import utf16

WRONG = ("tank-side", "other")  # answers to which clamp is opened that would have opened another one
COUNTS = ("wrong", "stops", "cards", "skipped")


def misses_of(entry):
    """What an ``entry``, a purge or a run of a list, tells: {"at", "wrong", "stops", "cards", "skipped", "reasons"}.

    "wrong": answers at the gate that named a wrong clamp, also those taken back; "stops": times the work stopped;
    "cards": times an emergency card was opened; "skipped": steps or lines skipped, with their "reasons". Initials, and
    who said what, are never looked at. None where nothing of it is told.

    >>> told = [{"state": "gate-clamp", "event": "tank-side", "at": "2026-03-01T07:00:00.000Z"}]
    >>> body = {"table": "2", "state": "gate-wrong", "events": told}
    >>> misses_of({"kind": "purge", "created": "2026-03-01T06:59:00.000Z", "body": body})["wrong"]
    1
    """
    told = _of_purge(entry["body"]) if entry["kind"] == "purge" else _of_list(entry["body"])
    return {"at": entry["created"], **told} if any(told[name] for name in COUNTS) else None


def misses_by_month(misses, zone):
    """[(month, {"wrong", "stops", "cards", "skipped", "reasons"})] of what ``misses_of`` told.

    Months are those of the clock in ``zone``. "reasons": [[reason, how many]], the most frequent first.
    """
    months = {}
    for told in misses:
        month = months.setdefault(wall_text(told["at"], zone)[:7], dict.fromkeys(COUNTS, 0) | {"reasons": {}})
        for name in COUNTS:
            month[name] += told[name]
        for reason in told["reasons"]:
            month["reasons"][reason] = month["reasons"].get(reason, 0) + 1
    return [(name, month | {"reasons": _frequent(month["reasons"])}) for name, month in sorted(months.items())]


def _of_purge(body):
    stops, events = _stops(body["table"]), body["events"]
    names = [event["event"] for event in events]
    skips = [event for event in standing(events) if event["event"] == SKIP] if SKIP in names else []
    left = sum(event["event"] in stops[event["state"]] for event in events if event["state"] in stops)
    return {
        "wrong": sum(map(names.count, WRONG)),
        "stops": left + (body["state"] in stops),
        "cards": names.count(TROUBLE),
        "skipped": len(skips), "reasons": _reasons(event.get("data", {}) for event in skips),
    }


@cache
def _stops(table):
    """{state at which the work stops: its events} of a table, none of one that is not known here."""
    return {state: step.events for state, step in tables().get(table, {}).items() if step.stop}


def _of_list(body):
    skips = [event for event in body["events"] if not event["done"] and event.get("reason")]
    return {
        "wrong": 0, "stops": 0, "cards": sum(event.get("aged") == "card" for event in body["events"]),
        "skipped": len(skips), "reasons": _reasons(skips),
    }


def _reasons(said):
    return [reason for reason in (each.get("reason") for each in said) if reason]


def _frequent(reasons):
    return [[reason, count] for reason, count in sorted(reasons.items(), key=_order)]


def _order(counted):
    return -counted[1], utf16(counted[0])


RANGES = {
    "misses_of": ["entry that tells of misses"],
    "misses_by_month": "misses and a zone",
}
