"""The finished purges as a table for a spreadsheet: CSV by RFC 4180, the unit of a column in its header."""

from decimal import ROUND_HALF_UP, Context

from tankfoot.batches.life import batch_in, changes_of
from tankfoot.batches.wall_clock import wall_text
from tankfoot.purge.clock import was_set_back
from tankfoot.purge.machine import LAST, instant_of
from tankfoot.purge.times import run_times
from tankfoot.quantities.units import offered, units
from tankfoot.record.canonical import number
from tankfoot.report.facts import fact_of, is_told
from tankfoot.report.misses import misses_of

WHOLE = "whole"
NO_MISSES = {"wrong": 0, "stops": 0, "cards": 0, "skipped": 0, "reasons": []}

# name, where it comes from, and the kind of quantity, or WHOLE for a number without a unit; without a kind it is
# written as it stands.
COLUMNS = [
    ("opened", "opened", None),
    ("tank", "body.tank_name", None),
    ("what", "body.solids", None),
    ("open", "run_time", "duration"),
    ("past_colour_change", "overrun_time", "duration"),
    ("volume_lost", "body.result.volume_lost.value", "bucket_volume"),
    ("volume_lost_give_or_take", "body.result.volume_lost.uncertainty", "bucket_volume"),
    ("solids", "body.result.solids.value", "bucket_volume"),
    ("beer_in_solids", "body.result.beer_in_solids.value", "bucket_volume"),
    ("overrun", "body.result.overrun.value", "bucket_volume"),
    ("saved", "body.result.saved.value", "bucket_volume"),
    ("money_lost", "body.result.money_lost.value", "money"),
    ("money_saved", "body.result.money_saved.value", "money"),
    ("top_up_mass", "body.result.top_up_mass.value", "gas_mass"),
    ("ways_agree", "body.agree", None),
    ("gas_shut", "body.gas_shut", None),
    ("headspace", "body.readings.headspace", None),
    ("pressure_before", "body.readings.pressure_before", None),
    ("pressure_after", "body.readings.pressure_after", None),
    ("temperature", "body.readings.temperature", None),
    ("collected_volume", "body.readings.collected_volume", None),
    ("collected_mass", "body.readings.collected_mass", None),
    ("notes", "body.notes", None),
    ("demo", "demo", None),
    ("id", "id", None),
    ("clock_set_back", "clock_set_back", None),
    ("batch", "beer", None),
    ("batch_id", "batch", None),
    ("opened_local", "opened_local", None),
    ("zone", "zone", None),
    ("initials", "body.initials", None),
    ("hand", "fact.seconds", "duration"),
    ("flow", "flow", "beer_flow"),
    ("beer_share", "body.readings.beer_share", None),
    ("beer_share_assumed", "fact.assumed", None),
    ("skips", "misses.skipped", WHOLE),
    ("skip_reasons", "skip_reasons", None),
    ("cards_opened", "misses.cards", WHOLE),
    ("stops", "misses.stops", WHOLE),
    ("wrong_answers", "misses.wrong", WHOLE),
    ("solids_give_or_take", "body.result.solids.uncertainty", "bucket_volume"),
    ("beer_in_solids_give_or_take", "body.result.beer_in_solids.uncertainty", "bucket_volume"),
    ("overrun_give_or_take", "body.result.overrun.uncertainty", "bucket_volume"),
    ("saved_give_or_take", "body.result.saved.uncertainty", "bucket_volume"),
    ("money_lost_give_or_take", "body.result.money_lost.uncertainty", "money"),
    ("money_saved_give_or_take", "body.result.money_saved.uncertainty", "money"),
    ("top_up_mass_give_or_take", "body.result.top_up_mass.uncertainty", "gas_mass"),
    ("watched", "fact.watched", None),
    ("change_tapped", "fact.tapped", "duration"),
    ("change_seen", "fact.seen", "duration"),
    ("change_seen_taken", "body.watched.taken", None),
]
SIX = Context(prec=6, rounding=ROUND_HALF_UP)
FORMULA_STARTS = (*"=+-@\t\r\n", *"＝＋－＠")  # a spreadsheet would work such a text out, or worse


def purges_csv(entries, system, zone="UTC", currency="$"):
    """The finished purges among ``entries``, oldest first, in the first units that a ``system`` offers.

    ``entries`` of batches and of what happened to them say which beer was in the tank when a purge began; ``zone`` is
    that of the clock on the wall, ``currency`` stands at the head of what is money.

    A text that a spreadsheet would take for a formula gets an apostrophe in front (OWASP, CSV injection).
    """
    purges, batches, events = (
        [entry for entry in entries if entry["kind"] == kind and not entry["deleted"]]
        for kind in ("purge", "batch", "batch-event")
    )
    beers = {entry["id"]: entry["body"]["beer"] for entry in batches}
    stories = {}
    for event in events:
        stories.setdefault(event["body"]["tank"], []).append(event)
    finished = [entry for entry in purges if entry["body"]["state"] == LAST]
    changes = {tank: changes_of(story) for tank, story in stories.items()}
    rows = [_row(entry, zone) | _batch(entry, changes, beers) for entry in finished]
    rows.sort(key=lambda row: (row["opened"], row["id"]))
    lines = [[_quoted(_header(name, kind, system, currency)) for name, _, kind in COLUMNS]]
    lines += [[_cell(_at(row, path), kind, system) for _, path, kind in COLUMNS] for row in rows]
    return "".join(",".join(line) + "\r\n" for line in lines)


def _row(entry, zone):
    run, overrun = run_times(entry["body"])
    set_back = was_set_back(run, overrun)
    opened = instant_of(entry["body"]["events"], "opened") or entry["created"]
    times = {} if set_back else {"run_time": run, "overrun_time": overrun}
    fact, misses = fact_of(entry, None), misses_of(entry) or NO_MISSES
    return {
        **entry, **times, "opened": opened, "clock_set_back": set_back, "opened_local": wall_text(opened, zone),
        "zone": zone, "fact": fact, "flow": flow_of(fact), "misses": misses,
        "skip_reasons": "; ".join(misses["reasons"]),
    }


def flow_of(fact):
    """What left the tank in a second that the port was open, m3/s; None where that is not told."""
    volume, run = fact["volume_lost"], fact["run"]
    return volume / run if is_told(volume) and is_told(run) and run > 0.0 else None


def _batch(purge, changes, beers):
    batch = batch_in(changes.get(purge["body"]["tank"], []), purge["created"])
    return {"beer": beers.get(batch), "batch": batch}


def _at(row, path):
    for key in path.split("."):
        row = row.get(key) if isinstance(row, dict) else None
    return row


def _header(name, kind, system, currency):
    if kind in (None, WHOLE):
        return name
    if kind == "money":
        return f"{name}_{currency}"
    return f"{name}_{offered(kind, system)[0].replace(' ', '_')}"


def _cell(value, kind, system):
    if value is None:
        return ""
    if isinstance(value, bool):
        return _quoted("yes" if value else "no")
    if kind is None:
        return _quoted(f"'{value}" if value.startswith(FORMULA_STARTS) else value)
    if kind == WHOLE:
        return number(float(value))
    unit = units()[offered(kind, system)[0]]
    return number(float(SIX.create_decimal((value - unit.offset) / unit.factor)))


def _quoted(text):
    return '"' + text.replace('"', '""') + '"'


RANGES = {
    "purges_csv": ["checked entries", "system", ["UTC", "America/New_York"], ["$", "CHF"]],
    "flow_of": ["fact"],
}
