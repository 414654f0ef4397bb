"""Reads an export file and says what is wrong with it, and where."""

from collections import Counter
from dataclasses import replace

from tankfoot.office.transfer import LARGEST, Contents, read_bytes
from tankfoot.purge.machine import LAST, WrongEvent, next_state, standing, state_after, tables
from tankfoot.purge.outcome import RESULTS, UnreadReading, outcome_of
from tankfoot.record.entry import Problem
from tankfoot.wording import plural, words

CLOSE = 1e-6  # of a result or its ±, whichever is larger: more than a file's rounding, less than anybody reads
PARTS = ("value", "uncertainty")
FROM_THE_USUAL = {"saved", "money_saved"}  # not to be reckoned where the purge does not say what was usual


def check_file(path):
    """The Contents of the file at ``path``, whatever it is. Raises OSError where it cannot be read."""
    if path.stat().st_size > LARGEST:
        return Contents(problems=[Problem("", "too-large", {"most": str(LARGEST // 1_000_000)})])
    return read_bytes(path.read_bytes())


def summary(entries):
    """What ``entries`` are, counted.

    >>> summary([{"kind": "tank", "deleted": False}, {"kind": "purge", "deleted": True}])
    '1 tank, 1 deleted'
    """
    return summary_of(Counter(map(counted, entries)))


def counted(entry):
    """As what an ``entry`` counts in a summary."""
    return "deleted" if entry["deleted"] else entry["kind"]


def summary_of(kinds):
    """The same of so many of each of ``kinds``."""
    nouns = words("command")["kinds"]
    return ", ".join(plural(nouns[kind], kinds[kind]) for kind in nouns if kinds[kind]) or words("command")["none"]


def contradictions(entries, system="us"):
    """The Problems of purges whose stored state, or results once they are finished, are not what they tell now.

    Only what is stored and known here is held against: a file of another version may have less, or more. Bare numbers
    are in the units of ``system``.
    """
    return [replace(problem, where=f"entries[{place}].{problem.where}")
            for place, entry in enumerate(entries) for problem in differences(entry, system)]


def differences(entry, system):
    """The same of one ``entry``, their places those in it."""
    if entry["kind"] != "purge" or entry["deleted"]:
        return []
    return [Problem(f"body.{where}", code, facts, entry["id"])
            for where, code, facts in _differences(entry["body"], system)]


def _differences(body, system):
    state = _state_told(body["events"], body["table"])
    if state not in (None, body["state"]):
        yield "state", "state", {"stored": body["state"], "ours": state}
    if body["state"] == LAST:
        yield from _result_differences(body, system)


def _state_told(events, table):
    """Where ``events`` lead by a ``table``, None where they do not say or the table is not known here.

    Where they are no walk through the steps that are known here, some may be missing: then the last one tells alone.
    """
    if not events or table not in tables():
        return None
    try:
        return state_after(events, table)
    except WrongEvent:
        last = standing(events)[-1]
    try:
        return next_state(last["state"], last["event"], table=table)
    except WrongEvent:
        return None


def _result_differences(body, system):
    try:
        told = outcome_of(body, system)
    except UnreadReading as unread:
        yield f"readings.{unread.name}", "not-read", {"reason": unread.code}
        return
    unsaid = set() if "usual_overrun" in body["readings"] else FROM_THE_USUAL
    for name in RESULTS:
        stored, ours = body["result"].get(name), told.result.get(name)
        if stored and name not in unsaid and not (ours and _alike(stored, ours)):
            given = {"ours": _written(ours)} if ours else {}
            yield f"result.{name}", "stored" if ours else "stored-without", {"stored": _written(stored), **given}
    if None not in (body["agree"], told.agree) and body["agree"] != told.agree:
        yield "agree", "agree" if body["agree"] else "disagree", {}


def _alike(stored, ours):
    if stored == ours:
        return True
    largest = max(abs(ours["value"]), ours["uncertainty"] or 0.0)
    pairs = [(stored[part], ours[part]) for part in PARTS if None not in (stored[part], ours[part])]
    return all(abs(a - b) <= CLOSE * largest for a, b in pairs)


def _written(amount):
    value, uncertainty = (amount[part] if amount[part] is None else f"{amount[part]:.9g}" for part in PARTS)
    return value if uncertainty is None else f"{value} ± {uncertainty}"
