"""Where a run of a checklist stands by its events: {"line", "at", "done"}, and a "reason" where a line is skipped."""


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


RANGES = {
    "standing_lines": ["ticks"],
    "lines_left": ["lines", "ticks"],
    "people_wanted": ["people asked for", "list run"],
    "is_finished": ["lines", "people asked for", "list run"],
}
