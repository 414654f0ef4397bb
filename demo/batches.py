"""The batches in the invented brewery's tanks, and what happened to each, from batches.toml."""

import tomllib
from datetime import timedelta
from pathlib import Path

from invented import FIRST_DAY, entry, instant, si

STORY = Path(__file__).with_name("batches.toml")
SPREAD = "± 0.2 bbl"  # of a filling


def stories():
    """All batches, each as the head of the file says."""
    return tomllib.loads(STORY.read_text(encoding="utf-8"))["batches"]


def at_time(story, row):
    """The moment of a row of a story."""
    hours, minutes = map(int, row["time"].split(":"))
    return FIRST_DAY.replace(hour=hours, minute=minutes) + timedelta(days=story["fill"] + row["at"])


def entries_of(rng, story, tank, filled):
    """A batch in a ``tank``, filled with so many bbl: its entry, its events, what was read."""
    batch = entry(rng, "batch", at_time(story, story["events"][0]), {"beer": story["beer"], "notes": None})
    whose = {"tank": tank["id"], "tank_name": tank["body"]["name"]}
    events = [_event(rng, {"batch": batch["id"], **whose}, at_time(story, row), row, filled) for row in story["events"]]
    return [batch, *events, *(_reading(rng, whose, at_time(story, row), row) for row in story.get("readings", []))]


def drawn_from(story):
    """What harvests and samples took of a batch that is still in its tank, m3; nothing where nobody said."""
    if story["events"][-1]["event"] == "emptied":
        return 0.0
    told = [row["amount"] for row in story["events"] if row["event"] in ("harvested", "taken") and "amount" in row]
    return sum(si(float(amount.split()[0]), "gal") for amount in told)


def _event(rng, whose, moment, row, filled):
    amount = f"{filled:.1f} bbl {SPREAD}" if row.get("amount") == "volume" else row.get("amount")
    return entry(rng, "batch-event", moment, {
        **whose, "event": row["event"], "at": instant(moment), "amount": amount, "days": row.get("days"),
        "note": None, "by": None,
    })


def _reading(rng, whose, moment, row):
    """What the gauge and the thermometer showed in passing."""
    return entry(rng, "tank-reading", moment, {
        **whose, "at": instant(moment), "pressure": row["pressure"], "temperature": row["temperature"],
        "gravity": None, "topped_up": row.get("topped_up"), "by": None,
    })
