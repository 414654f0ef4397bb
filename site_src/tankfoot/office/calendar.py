"""What is due as a calendar that other programs read: iCalendar by RFC 5545, an event for each thing to do."""

import re

from tankfoot.batches.due import rule_of
from tankfoot.batches.wall_clock import start_of_day, wall_text
from tankfoot.wording import due_sentence, due_title, words

LONGEST_LINE = 75  # octets, RFC 5545, 3.1
OWNER = "tankfoot.invalid"  # a name that nobody can have, RFC 2606
COUNTED_BY_DAY = ("again", "returns")
NO_TEXT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")
HALF = re.compile("[\ud800-\udfff]")  # of a surrogate pair, which UTF-8 cannot write
BREAK = re.compile("\r\n|\r|\n")
ESCAPED = re.compile(r"[\\;,]")


def calendar_file(items, rules, names, now, zone):
    """The text of an iCalendar file of those of the ``items`` of due.py that are not done, as they stand ``now``.

    ``names``: {id: name} of their tanks and, of those that have one, their batches' beers. What its rule counts in days
    of the calendar is a whole day wherever it is read; what counts from the time of an event has its instants.

    >>> item = {"key": "hops.e", "tank": "t", "batch": "b", "rule": "hops", "state": "due",
    ...         "from": "2026-03-29T01:00:00.000Z", "until": "2026-03-30T01:00:00.000Z",
    ...         "why": {"code": "dry-hopped", "at": "2026-03-26T02:00:00.000Z", "days": 3.0}}
    >>> text = calendar_file([item], [], {"t": "FV 2", "b": "Pale Ale"}, "2026-03-29T04:00:00.000Z", "Europe/Berlin")
    >>> print(*text.split("\\r\\n")[4:9], sep="\\n")
    UID:hops.e.t@tankfoot.invalid
    DTSTAMP:20260329T040000Z
    DTSTART:20260329T010000Z
    DTEND:20260330T010000Z
    SUMMARY:FV 2: Purge the hops (Pale Ale)
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Tankfoot//Tankfoot//EN"]
    for item in items:
        if item["state"] != "done":
            lines += _event(item, rule_of(item, rules), names, now, zone)
    return "".join(f"{_folded(line)}\r\n" for line in [*lines, "END:VCALENDAR"])


def _event(item, rule, names, now, zone):
    own, asks = words("due")["calendar"], due_title(item, rule)
    beer = names.get(item["batch"])
    summary = own["with_beer" if beer else "summary"].format(tank=names.get(item["tank"], ""), asks=asks, beer=beer)
    return [
        "BEGIN:VEVENT", f"UID:{item['key']}.{item['tank']}@{OWNER}", f"DTSTAMP:{_utc(now)}",
        *_times(item, rule, zone), f"SUMMARY:{_text(summary)}",
        f"DESCRIPTION:{_text(due_sentence(item, wall_text(item['why']['at'], zone)))}",
        "TRANSP:TRANSPARENT",  # nobody is busy the whole time
        "END:VEVENT",
    ]


def _times(item, rule, zone):
    """Start and end; an end must come after its start, RFC 5545, 3.8.2.2, so one that does not is left out."""
    ends = (item["from"], item["until"])
    counted = (rule and rule["every"] is not None) or item["why"]["code"] in COUNTED_BY_DAY
    by_day = counted and all(start_of_day(end, 0.0, zone) == end for end in ends)
    start, end = (_date(end, zone) if by_day else _utc(end) for end in ends)
    form = ";VALUE=DATE" if by_day else ""
    return [f"DTSTART{form}:{start}", *[f"DTEND{form}:{end}"] * (end > start)]


def _date(instant, zone):
    return wall_text(instant, zone)[:10].replace("-", "")


def _utc(instant):
    return re.sub("[-:]", "", instant[:19]) + "Z"


def _text(text):
    """A value of type TEXT, RFC 5545, 3.3.11."""
    plain = HALF.sub("\ufffd", NO_TEXT.sub("", text))
    return BREAK.sub(r"\\n", ESCAPED.sub(r"\\\g<0>", plain))


def _folded(line):
    """Cut so that no line is too long and no letter is cut; each but the first begins with a space, which counts."""
    lines, size = [""], 0
    for letter in line:
        octets = len(letter.encode())
        if size + octets > LONGEST_LINE:
            lines.append(" ")
            size = 1
        lines[-1] += letter
        size += octets
    return "\r\n".join(lines)


RANGES = {"calendar_file": "items for a calendar"}
