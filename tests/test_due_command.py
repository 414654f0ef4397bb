"""`tankfoot due` and `tankfoot calendar`: what goes in, what comes out, where, and with which exit code."""

import json
import re
from datetime import UTC, date, datetime

import icalendar
import pytest
from cellar import tank
from due_month import ZONE, export, instant, month
from tankfoot.office.transfer import export_file
from tankfoot.office.when import own_zone

NOW = instant("03-30 06:00")
ASKED = ("--at", NOW, "--zone", ZONE)


@pytest.fixture
def file(tmp_path):
    return export(tmp_path, month())


def test_one_json_object_with_all_that_is_asked_of_an_item(tankfoot, file):
    code, out, err = tankfoot("due", file, *ASKED, "--json")
    assert (code, err, out.count("\n")) == (0, "", 1)
    items = json.loads(out)["due"]
    assert all(list(item) == ["tank", "batch", "rule", "from", "until", "state", "why"] for item in items)
    assert {item["state"] for item in items} == {"overdue", "due", "later", "done"}
    assert all(datetime.fromisoformat(item[end]).utcoffset() is not None for item in items for end in ("from", "until"))
    assert all(item["why"].endswith(".") and "{" not in item["why"] for item in items)


def test_a_tank_of_which_nobody_said_what_is_in_it_has_no_beer(tankfoot, file):
    _, out, _ = tankfoot("due", file, "--at", instant("03-05 06:00"), "--zone", ZONE, "--json")
    assert [item["batch"] for item in json.loads(out)["due"] if item["tank"] == "FV 10"] == [None]


def test_a_table_for_people_says_the_same(tankfoot, file):
    code, out, _ = tankfoot("due", file, *ASKED)
    assert code == 0
    # By hand, from the calendar in due_month.py: hops in FV 2 are overdue since 03:00, and nothing else is.
    names, hops, why = (re.split(r" {2,}", line.strip()) for line in out.splitlines()[:3])
    assert names == ["state", "tank", "beer", "what", "from", "until"]
    assert hops == ["overdue", "FV 2", "Pale Ale", "Purge the hops", "2026-03-29 03:00", "2026-03-30 03:00"]
    assert why == ["Dry hops went in on 2026-03-26 03:00; this is due 3 days later."]


def test_nothing_due_is_said(tankfoot, tmp_path):
    code, out, _ = tankfoot("due", export(tmp_path, [tank("FV 1")]), *ASKED)
    assert (code, out) == (0, "Nothing is due, and nothing comes later.\n")


def test_what_a_terminal_would_take_for_a_command_is_not_printed(tankfoot, tmp_path):
    odd = tank("FV 1", purge_every=86400.0)
    odd["body"]["name"] = "FV\x1b[2J\ud83d"
    path = tmp_path / "odd.json"
    path.write_text(export_file([odd], "1.2.3", NOW), encoding="utf-8")
    code, out, _ = tankfoot("due", path, *ASKED)
    assert code == 0 and "\x1b" not in out
    code, out, _ = tankfoot("due", path, *ASKED, "--json")
    assert json.loads(out)["due"][0]["tank"] == "FV\x1b[2J\ud83d"


REFUSED = {
    "zone": (["--zone", "Europe/Atlantis"], "Europe/Atlantis is no time zone: give one such as Europe/Berlin.\n"),
    "folder of zones": (["--zone", "Europe"], "Europe is no time zone: give one such as Europe/Berlin.\n"),
    "way out": (["--zone", "../../etc/passwd"], "../../etc/passwd is no time zone: give one such as Europe/Berlin.\n"),
    "no zone": (["--zone", ""], " is no time zone: give one such as Europe/Berlin.\n"),
}
NO_INSTANTS = ("soon", "", "2026-02-30T06:00Z", "0001-01-01T00:00+14:00", "9999-12-31T23:59-12:00", "1899-12-31T00:00Z")


@pytest.mark.parametrize("command", ["due", "calendar"])
@pytest.mark.parametrize(("given", "says"), REFUSED.values(), ids=REFUSED)
def test_an_unknown_zone_is_one_sentence(given, says, command, tankfoot, file, tmp_path):
    more = ["-o", tmp_path / "due.ics"] if command == "calendar" else ["--json"]
    assert tankfoot(command, file, *given, *more) == (2, "", says)


@pytest.mark.parametrize("given", NO_INSTANTS)
def test_an_unknown_instant_is_one_sentence(given, tankfoot, file):
    code, out, err = tankfoot("due", file, "--zone", ZONE, "--at", given, "--json")
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert err.startswith(f"{given} is no instant")


def test_an_instant_without_an_offset_is_of_the_zone(tankfoot, file):
    asked = (NOW, "2026-03-30T06:00", "2026-03-30 06:00", "2026-03-30T00:00-04:00")
    told = [tankfoot("due", file, "--zone", ZONE, "--at", at, "--json") for at in asked]
    assert told == [told[0]] * len(asked)


def test_a_file_that_is_not_there_or_not_right_is_one_sentence(tankfoot, file, tmp_path):
    gone = tmp_path / "gone.json"
    assert tankfoot("due", gone, *ASKED) == (
        1, "", f"{gone} cannot be read: No such file or directory. Check the name.\n",
    )
    torn = tmp_path / "torn.json"
    torn.write_text(file.read_text(encoding="utf-8")[:-9], encoding="utf-8")
    code, out, err = tankfoot("due", file, torn, *ASKED)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert err.startswith(f"{torn}: ")


# Source: POSIX, Environment Variables, TZ: a colon and what the system makes of it, a name, or a rule written out.
@pytest.mark.parametrize(("set_to", "zone"), [
    ("Europe/Berlin", "Europe/Berlin"), (":Europe/Berlin", "Europe/Berlin"), ("CET-1CEST,M3.5.0,M10.5.0", None),
    ("/usr/share/zoneinfo/America/New_York", "America/New_York"), ("", None), ("Nowhere/At_All", None),
])
def test_the_machines_zone_is_what_tz_says(set_to, zone):
    assert own_zone(set_to) == zone


# Source: systemd, localtime(5): a link to a file below zoneinfo, whose name there is that of the zone.
def test_without_tz_the_zone_is_where_localtime_leads(tmp_path, monkeypatch):
    monkeypatch.delenv("TZ", raising=False)
    data = tmp_path / "zoneinfo" / "Australia" / "Lord_Howe"
    data.parent.mkdir(parents=True)
    data.touch()
    link = tmp_path / "localtime"
    link.symlink_to(data)
    assert own_zone(localtime=link) == "Australia/Lord_Howe"
    assert own_zone(localtime=tmp_path / "none") is None


def test_a_zone_that_cannot_be_told_is_said_and_utc_taken(tankfoot, file, monkeypatch):
    monkeypatch.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0")
    code, out, err = tankfoot("due", file, "--at", NOW, "--json")
    assert (code, err) == (0, "The time zone of this machine cannot be told, so UTC is taken: give --zone.\n")
    assert {item["from"][-6:] for item in json.loads(out)["due"]} == {"+00:00"}


def test_the_calendar_read_back_says_what_is_due(tankfoot, file, tmp_path):
    """Source: RFC 5545, as the `icalendar` package reads it."""
    output = tmp_path / "due.ics"
    assert tankfoot("calendar", file, "-o", output, *ASKED) == (0, f"5 things to do: {output}\n", "")
    read = icalendar.Calendar.from_ical(output.read_bytes())
    assert (read["VERSION"], read["PRODID"]) == ("2.0", "-//Tankfoot//Tankfoot//EN")
    events = {str(event["SUMMARY"]): event for event in read.walk("VEVENT")}
    _, out, _ = tankfoot("due", file, *ASKED, "--json")
    wanted = [item for item in json.loads(out)["due"] if item["state"] != "done"]
    assert len(events) == len(wanted) == 5
    assert sorted(str(event["DESCRIPTION"]) for event in events.values()) == sorted(item["why"] for item in wanted)
    assert {event["DTSTAMP"].dt for event in events.values()} == {datetime(2026, 3, 30, 4, tzinfo=UTC)}
    # By hand: a contact time has its instants, wherever it is read; a day of the calendar is a day there.
    hops, gauge = events["FV 2: Purge the hops (Pale Ale)"], events["FV 1: Read the gauge (Kriek)"]
    assert (hops["DTSTART"].dt, hops["DTEND"].dt) == (
        datetime(2026, 3, 29, 1, tzinfo=UTC), datetime(2026, 3, 30, 1, tzinfo=UTC),
    )
    assert (gauge["DTSTART"].dt, gauge["DTEND"].dt) == (date(2026, 3, 30), date(2026, 3, 31))


def test_a_thing_to_do_keeps_its_uid_and_no_other_has_it(tankfoot, file, tmp_path):
    def uids(at):
        output = tmp_path / "due.ics"
        tankfoot("calendar", file, "-o", output, "--at", at, "--zone", ZONE)
        events = icalendar.Calendar.from_ical(output.read_bytes()).walk("VEVENT")
        assert len({event["UID"] for event in events}) == len(events)
        return {str(event["SUMMARY"]): str(event["UID"]) for event in events}

    before, after = uids(instant("03-28 22:00")), uids(NOW)
    assert before["FV 2: Purge the hops (Pale Ale)"] == after["FV 2: Purge the hops (Pale Ale)"]
    assert all(re.fullmatch(r"[\w.-]+@tankfoot\.invalid", uid) for uid in after.values())


def test_without_a_thing_to_do_no_calendar_is_written(tankfoot, tmp_path):
    """Source: RFC 5545, 3.6: a calendar has at least one component."""
    output = tmp_path / "due.ics"
    code, out, err = tankfoot("calendar", export(tmp_path, [tank("FV 1")]), "-o", output, *ASKED)
    assert (code, out, err.count("\n")) == (1, "", 1)
    assert not output.exists()


def test_a_calendar_that_cannot_be_written_is_said(tankfoot, file, tmp_path):
    code, out, err = tankfoot("calendar", file, "-o", tmp_path / "no" / "due.ics", *ASKED)
    assert (code, out) == (1, "")
    assert "cannot be written" in err
