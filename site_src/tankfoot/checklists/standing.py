"""Where a run of a checklist stands by its events: {"line", "at", "done"}, and a "reason" where a line is skipped.

An event with "aged" takes a tick back because the check had grown old: it says why.
"""

from tankfoot.record.age import why_old


def standing_lines(events):
    """The last event of each line that is done or skipped, in the order in which they were; an unticked line has none.

    >>> events = [{"line": name, "done": done} for name, done in (("cap", True), ("hose", True), ("cap", False))]
    >>> [event["line"] for event in standing_lines(events)]
    ['hose']
    """
    stands = {}
    for event in events:
        if event["done"] or event.get("reason"):
            stands[event["line"]] = event
        else:
            stands.pop(event["line"], None)
    return list(stands.values())


def lines_left(lines, events):
    """Those of a list's ``lines`` (ids) that are neither done nor skipped, in their order.

    >>> lines_left(["cap", "hose"], [{"line": "cap", "done": False, "reason": "none here"}])
    ['hose']
    """
    settled = {event["line"] for event in standing_lines(events)}
    return [line for line in lines if line not in settled]


def people_wanted(asked, body):
    """Those of the people a list has ``asked`` for ("initials", "second") who have not signed a run's ``body``.

    Two who sign alike are one person.

    >>> people_wanted(["initials", "second"], {"initials": "AB", "second": "AB"})
    ['second']
    """
    first, second = body.get("initials"), body.get("second")
    wanted = {"initials": not first, "second": not second or second == first}
    return [name for name in asked if wanted[name]]


def is_finished(lines, asked, body):
    """Whether nothing is missing in a run's ``body``, of a list with these ``lines`` that ``asked`` for these people.

    >>> is_finished(["cap"], ["initials"], {"events": [{"line": "cap", "done": True}], "initials": "AB"})
    True
    """
    return not lines_left(lines, body["events"]) and not people_wanted(asked, body)


def run_grown_old(body, now, hand=None, card=None):
    """Why the ticks of a run's ``body`` count no more at the instant ``now``, as in ``why_old``; None while they do.

    ``hand``: the initials of who is there now. ``card``: the instant at which an emergency card was last opened.

    >>> body = {"events": [{"line": "cap", "at": "2026-03-01T07:00:00.000Z", "done": True}], "initials": "AB"}
    >>> run_grown_old(body, "2026-03-01T07:01:00.000Z", "CD"), run_grown_old(body, "2026-03-01T07:01:00.000Z", "AB")
    ('hand', None)
    """
    if not body["events"]:
        return None
    last = body["events"][-1]["at"]
    return why_old(last, now, card is not None and card > last, hand, body.get("initials") or hand)


def ticks_taken_back(gates, events, at, why):
    """The events at an instant that take back the ticks of ``gates`` (ids of lines) that stand in ``events``.

    >>> ticks_taken_back(["cap"], [{"line": "cap", "at": "", "done": True}], "2026-03-01T07:30:00.000Z", "time")
    [{'line': 'cap', 'at': '2026-03-01T07:30:00.000Z', 'done': False, 'aged': 'time'}]
    """
    ticked = [event["line"] for event in standing_lines(events) if event["done"] and event["line"] in gates]
    return [{"line": line, "at": at, "done": False, "aged": why} for line in ticked]


def why_asked_again(events):
    """Why lines wait to be ticked once more, as the last of them says; None where none does.

    >>> events = [{"line": "cap", "at": "", "done": False, "aged": "card"}]
    >>> why_asked_again(events), why_asked_again([*events, {"line": "cap", "at": "", "done": True}])
    ('card', None)
    """
    last = {event["line"]: event for event in events}
    waiting = [event for event in events if event is last[event["line"]] and event.get("aged")]
    return waiting[-1]["aged"] if waiting else None


RANGES = {
    "standing_lines": ["ticks"],
    "lines_left": ["lines", "ticks"],
    "people_wanted": ["people asked for", "list run"],
    "is_finished": ["lines", "people asked for", "list run"],
    "run_grown_old": "list run and what came since",
    "ticks_taken_back": ["lines", "ticks", "instant", ["card", "hand", "time"]],
    "why_asked_again": ["ticks"],
}
