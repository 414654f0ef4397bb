"""A calendar file is what RFC 5545 asks for, whatever tanks and beers are called, and is read back as it was meant."""

import random
from datetime import UTC, date, datetime

import icalendar
import pytest
from drawn_batches import for_a_calendar
from tankfoot.batches.due import rule_of
from tankfoot.batches.wall_clock import wall_text
from tankfoot.office.calendar import calendar_file
from tankfoot.wording import due_sentence, due_title

DRAWN = [for_a_calendar(random.Random(f"calendar {place}")) for place in range(300)]


def as_written(text):
    """A text less what RFC 5545 cannot hold: control characters; halves of surrogate pairs are no Unicode."""
    kept = "".join(c for c in text.replace("\r\n", "\n").replace("\r", "\n") if c in "\t\n" or c.isprintable()
                   or c in "\u2028" or "\ud800" <= c <= "\udfff")
    return "".join("\ufffd" if "\ud800" <= c <= "\udfff" else c for c in kept)


def utc(instant):
    return datetime.fromisoformat(instant).astimezone(UTC).replace(microsecond=0)


@pytest.fixture(scope="module")
def files():
    return [(drawn, calendar_file(*drawn)) for drawn in DRAWN]


# Source: RFC 5545, 3.1: lines end with CR LF and have at most 75 octets; none is cut within a letter.
def test_no_line_is_too_long_and_none_cuts_a_letter(files):
    for _, text in files:
        content = text.encode()
        assert content.endswith(b"END:VCALENDAR\r\n")
        assert content.count(b"\n") == content.count(b"\r") == content.count(b"\r\n")
        for line in content.split(b"\r\n"):
            assert len(line) <= 75
            line.decode()


# Source: the `icalendar` package.
def test_what_is_read_back_is_what_was_meant(files):
    by_day = count = 0
    for (items, rules, names, now, zone), text in files:
        events = icalendar.Calendar.from_ical(text.encode()).walk("VEVENT")
        wanted = [item for item in items if item["state"] != "done"]
        for item, event in zip(wanted, events, strict=True):
            rule, beer = rule_of(item, rules), names.get(item["batch"])
            title = f"{names.get(item['tank'], '')}: {due_title(item, rule)}" + (f" ({beer})" if beer else "")
            assert str(event["SUMMARY"]) == as_written(title)
            assert str(event["DESCRIPTION"]) == due_sentence(item, wall_text(item["why"]["at"], zone))
            assert str(event["UID"]) == f"{item['key']}.{item['tank']}@tankfoot.invalid"
            assert event["DTSTAMP"].dt == utc(now)
            start, end = event["DTSTART"].dt, event["DTEND"].dt if "DTEND" in event else None
            if isinstance(start, datetime):
                assert start == utc(item["from"])
                assert end == (utc(item["until"]) if utc(item["until"]) > start else None)
            else:
                days = [wall_text(item[name], zone) for name in ("from", "until")]
                assert [f"{day} 00:00" for day in (start, end or start)] == days
                by_day += 1
            assert end is None or end > start
            count += 1
    assert 0 < by_day < count


@pytest.mark.parametrize(("text", "escaped"), [
    # Source: RFC 5545, 3.3.11.
    ("a, b; c\\d", "a\\, b\\; c\\\\d"), ("two\r\nlines\rand\nmore", "two\\nlines\\nand\\nmore"), ("a:b\"c", "a:b\"c"),
])
def test_a_name_is_escaped(text, escaped):
    item = {"key": "hops.e", "tank": "t", "batch": None, "rule": "hops", "state": "due",
            "from": "2026-03-29T01:00:00.000Z", "until": "2026-03-30T01:00:00.000Z",
            "why": {"code": "dry-hopped", "at": "2026-03-26T02:00:00.000Z", "days": 3.0}}
    assert f"\r\nSUMMARY:{escaped}: Purge the hops\r\n" in calendar_file([item], [], {"t": text}, item["from"], "UTC")


# By hand: put off until six in the morning it is no whole day any more.
@pytest.mark.parametrize(("begin", "start"), [
    ("2026-03-28T23:00:00.000Z", date(2026, 3, 29)), ("2026-03-29T04:00:00.000Z", datetime(2026, 3, 29, 4, tzinfo=UTC)),
])
def test_a_rule_that_counts_days_is_a_whole_day_until_it_is_put_off(begin, start):
    item = {"key": "cold.p", "tank": "t", "batch": None, "rule": "cold", "state": "later",
            "from": begin, "until": "2026-03-30T22:00:00.000Z",
            "why": {"code": "returns", "at": "2026-03-26T08:00:00.000Z", "days": 3.0}}
    text = calendar_file([item], [], {"t": "FV 1"}, "2026-03-26T09:00:00.000Z", "Europe/Berlin")
    [event] = icalendar.Calendar.from_ical(text).walk("VEVENT")
    assert event["DTSTART"].dt == start
