"""One row a purge for spreadsheets and engines: typed columns, in SI, the unit at the end of a name."""

from datetime import datetime

from tankfoot.office.csv_export import NO_MISSES, flow_of
from tankfoot.office.when import with_offset
from tankfoot.purge.clock import was_set_back
from tankfoot.purge.outcome import UnreadReading, read
from tankfoot.purge.times import run_times
from tankfoot.report.facts import fact_of
from tankfoot.report.misses import misses_of

TEXT, NUMBER, WHOLE, FLAG, INSTANT = "text", "number", "whole", "flag", "instant"
RESULTS = {  # results of a purge, and the names of their columns
    "volume_lost": "volume_lost_m3", "overrun": "overrun_m3", "solids": "solids_m3",
    "beer_in_solids": "beer_in_solids_m3", "saved": "saved_m3", "top_up_mass": "co2_mass_kg",
    "money_lost": "money_lost", "money_saved": "money_saved",
}
READINGS = {
    "headspace": "headspace_m3", "pressure_found": "pressure_found_pa", "pressure_before": "pressure_before_pa",
    "pressure_after": "pressure_after_pa", "target_pressure": "target_pressure_pa", "temperature": "temperature_k",
    "collected_volume": "collected_volume_m3", "collected_mass": "collected_mass_kg", "beer_share": "beer_share",
}
COLUMNS = {
    "id": TEXT, "opened": INSTANT, "opened_local": TEXT, "zone": TEXT, "tank": TEXT, "tank_id": TEXT, "batch": TEXT,
    "batch_id": TEXT, "what": TEXT, "initials": TEXT,
    "open_s": NUMBER, "past_colour_change_s": NUMBER, "hand_s": NUMBER, "flow_m3_per_s": NUMBER,
    **{column: NUMBER for name in RESULTS.values() for column in (name, f"{name}_give_or_take")},
    "currency": TEXT, **dict.fromkeys(READINGS.values(), NUMBER), "beer_share_assumed": FLAG, "ways_agree": FLAG,
    "gas_shut": FLAG, "skips": WHOLE, "skip_reasons": TEXT,
    "cards_opened": WHOLE, "stops": WHOLE, "wrong_answers": WHOLE, "clock_set_back": FLAG, "notes": TEXT, "demo": FLAG,
    "watched": FLAG, "change_tapped_s": NUMBER, "change_seen_s": NUMBER, "change_seen_taken": FLAG,
}


def row_of(purge, system):
    """What the table takes of a finished ``purge`` alone; bare numbers of its readings are in units of ``system``.

    Pressures are gauge pressures. A reading that cannot be read is None, and so is what the purge does not tell.
    """
    body, fact, misses = purge["body"], fact_of(purge, None), misses_of(purge) or NO_MISSES
    run, past = run_times(body)
    is_known = run is not None and not was_set_back(run, past)
    row = dict.fromkeys(COLUMNS) | {
        "id": purge["id"], "opened": fact["at"], "tank": body["tank_name"], "tank_id": body["tank"],
        "what": body["solids"], "initials": body["initials"], "open_s": fact["run"],
        "past_colour_change_s": past if is_known else None, "hand_s": fact["seconds"], "flow_m3_per_s": flow_of(fact),
        "beer_share_assumed": fact["assumed"], "ways_agree": body["agree"], "gas_shut": body["gas_shut"],
        "skips": misses["skipped"], "skip_reasons": "; ".join(misses["reasons"]), "cards_opened": misses["cards"],
        "stops": misses["stops"], "wrong_answers": misses["wrong"], "clock_set_back": was_set_back(run, past),
        "notes": body["notes"], "demo": purge["demo"], "watched": fact["watched"], "change_tapped_s": fact["tapped"],
        "change_seen_s": fact["seen"], "change_seen_taken": body["watched"]["taken"] if fact["watched"] else None,
        "created": purge["created"],
    }
    for name, column in RESULTS.items():
        amount = body["result"].get(name) or {"value": None, "uncertainty": None}
        row[column], row[f"{column}_give_or_take"] = amount["value"], amount["uncertainty"]
    for name, column in READINGS.items():
        row[column] = _reading(name, body["readings"].get(name), system)
    return row


def completed(row, batch, beer, zone, currency):
    """A ``row`` with what the rest of the record says of it."""
    told = {"batch": beer, "batch_id": batch, "zone": zone, "opened_local": with_offset(row["opened"], zone)}
    return {name: value for name, value in (row | told | {"currency": currency}).items() if name in COLUMNS}


def _reading(name, text, system):
    if not text:
        return None
    try:
        return read(name, text, system)[1].si
    except UnreadReading:
        return None


def parquet_types(pyarrow):
    """The schema of the table for Parquet."""
    types = {TEXT: pyarrow.string(), NUMBER: pyarrow.float64(), WHOLE: pyarrow.int64(), FLAG: pyarrow.bool_(),
             INSTANT: pyarrow.timestamp("ms", tz="UTC")}
    return pyarrow.schema([(name, types[kind]) for name, kind in COLUMNS.items()])


def as_parquet(rows):
    """``rows`` with moments for instants, which Parquet has a type for, and texts that can be written in UTF-8."""
    return [{name: _as_parquet(value, COLUMNS[name]) for name, value in row.items()} for row in rows]


def _as_parquet(value, kind):
    if value is None or kind not in (TEXT, INSTANT):
        return value
    return datetime.fromisoformat(value) if kind == INSTANT else value.encode("utf-8", "backslashreplace").decode()
