"""Purges by what they are compared by: tank, batch, kind of solids, month, week."""

from datetime import date
from functools import lru_cache

from tankfoot.batches.wall_clock import wall_text
from tankfoot.record.bodies import SOLIDS
from tankfoot.record.canonical import utf16

DAYS = 5000  # whose week is remembered


def groups_of(facts, names, zone):
    """{"tanks", "batches", "solids", "months", "weeks": [(name, rows)]} of the purges in ``facts``, columns.

    Tanks go by their names of today (``names``, by id) else by the one they had, "" of none; batches by their ids, and
    purges of none are left out; months ("2026-03") and weeks ("2026-W09", ISO 8601) are those of the clock in ``zone``.
    """
    by = {name: {} for name in ("tanks", "batches", "solids", "months", "weeks")}
    for row, (at, batch, kind) in enumerate(zip(facts["at"], facts["batch"], facts["kind"], strict=True)):
        day = wall_text(at, zone)[:10]
        tank = names.get(facts["tank"][row], facts["tank_name"][row])
        keys = {"tanks": tank, "batches": batch, "solids": kind, "months": day[:7], "weeks": week_of(day)}
        for name, key in keys.items():
            if key is not None:
                by[name].setdefault(key, []).append(row)
    orders = {"tanks": utf16, "batches": utf16, "solids": SOLIDS.index, "months": utf16, "weeks": utf16}
    return {name: [(key, rows[key]) for key in sorted(rows, key=orders[name])] for name, rows in by.items()}


@lru_cache(DAYS)
def week_of(day):
    """The week of a ``day`` by ISO 8601: it begins on a Monday, and is of the year that has its Thursday.

    >>> week_of("2027-01-03"), week_of("2027-01-04")
    ('2026-W53', '2027-W01')
    """
    year, week, _ = date.fromisoformat(day).isocalendar()
    return f"{year:04d}-W{week:02d}"


RANGES = {
    "groups_of": "facts, names and a zone",
    "week_of": ["day"],
}
