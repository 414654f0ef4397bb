"""What the command says about a file that a phone exported."""

import json
import math
from pathlib import Path

import pytest
from records import CURRENT, VERSION_1, current, entry_changed, sealed
from tankfoot.cli import main
from tankfoot.office import check


def changed(**members):
    return json.dumps(current() | members)


TWICE = sealed(current() | {"entries": current()["entries"][:1] * 2})
WRONG = {
    "empty": ("", "The file is not JSON, or was cut short."),
    "cut short": (CURRENT.read_text(encoding="utf-8")[:-10], "The file is not JSON, or was cut short."),
    "another's": ('{"format": "else"}', "The file is not an export from Tankfoot"),
    "a list": ("[]", "The file is not an export from Tankfoot"),
    "newer": (changed(schema_version=8), "The file was written by a newer Tankfoot: its"),
    "no version": (changed(schema_version="1"), "schema_version must be a whole number from 1 to 7"),
    "miscounted": (changed(count=7), "count does not fit: there are 32 entries."),
    "another sum": (changed(sha256="0" * 64), "sha256 does not fit: the entries give "),
    "deep": ("[" * 100_000, "The file has lists or objects inside one another more than 32 deep."),
    "not a number": (changed(entries=[math.nan]), "The file is not JSON"),
    "too large": (changed(entries=[]).replace("[]", "[1e999]"), "The file has a number too large to be one."),
    "twice": (json.dumps(TWICE), "entries[0].id is the id of more than one entry."),
    "no such day": (entry_changed(0, edited="2026-02-30T06:00:00.000Z"), "entries[0].edited must be an"),
    "no such kind": (entry_changed(3, kind="hat"), "entries[3].kind must be one of tank, purge,"),
    "bad body": (entry_changed(3, body={}), "entries[3].body.answers is missing: it must be a list"),
}


@pytest.mark.parametrize("name", WRONG)
def test_check_says_what_is_wrong_and_where(name, tmp_path, capsys):
    text, start = WRONG[name]
    file = tmp_path / "export.json"
    file.write_text(text, encoding="utf-8")
    assert main(["check", str(file)]) == 2
    said = capsys.readouterr()
    assert said.err.startswith(start)
    assert said.out == ""


def test_check_names_the_entry(tmp_path, capsys):
    file = tmp_path / "export.json"
    file.write_text(entry_changed(3, body={}), encoding="utf-8")
    main(["check", str(file)])
    assert "(entry 00000004-1111-4111-8111-111111111111)" in capsys.readouterr().err


def test_what_a_file_holds_is_counted():
    assert check.summary(current()["entries"]).startswith("2 tanks, 4 purges, 1 checklist run")


def test_check_reckons_the_purges_of_an_old_file_again(capsys):
    assert main(["check", str(VERSION_1)]) == 2
    said = capsys.readouterr().err.splitlines()
    (overrun,) = [line for line in said if "overrun" in line]
    # by hand: 9.5 s of 70 s of the stored 31.48 L are 4.27 L, and the file says 4.2 L
    assert overrun.startswith("entries[1].body.result.overrun is stored as 0.0042, but its readings give 0.0042")
    assert overrun.endswith("(entry 00000002-1111-4111-8111-111111111111)")


def purge_of_version_1(state, *events):
    """A file's text whose second purge, of version 1's events, has other ones: (the step, what happened there)."""
    place, entry = [pair for pair in enumerate(current()["entries"]) if pair[1]["kind"] == "purge"][1]
    at = "2026-03-01T07:05:09.120Z"
    said = [{"at": at, "state": step, "event": event} for step, event in events]
    return place, entry_changed(place, body={**entry["body"], "state": state, "events": said})


# By hand, on the table: where the events lead, and the sentence where something else is stored.
STATES = [
    ("ready", [("choose", "begin")], None),
    ("sanitise", [("choose", "begin")], "is stored as sanitise, and its events lead to ready"),
    ("choose", [("choose", "begin"), ("ready", "undo")], None),
    ("ready", [("choose", "begin"), ("ready", "undo"), ("choose", "undo")],
     "is stored as ready, and its events lead to choose"),
    ("flowing", [("choose", "begin"), ("run", "opened")], None),
    ("beer", [("choose", "begin"), ("run", "opened")], "is stored as beer, and its events lead to flowing"),
    ("beer", [("choose", "begin"), ("in-a-later-version", "opened")], None),
]


@pytest.mark.parametrize(("state", "events", "says"), STATES)
def test_check_holds_the_state_of_a_purge_against_its_events(state, events, says, tmp_path, capsys):
    place, text = purge_of_version_1(state, *events)
    file = tmp_path / "export.json"
    file.write_text(text, encoding="utf-8")
    main(["check", str(file)])
    said = [line for line in capsys.readouterr().err.splitlines() if f"entries[{place}]" in line]
    told = f"entries[{place}].body.state {says} (entry 00000007-1111-4111-8111-111111111111)"
    assert said == ([told] if says else [])


def test_check_does_not_read_a_huge_file(tmp_path, capsys, monkeypatch):
    file = tmp_path / "huge.json"
    file.touch()
    with file.open("wb") as opened:
        opened.truncate(check.LARGEST + 1)
    monkeypatch.setattr(Path, "read_bytes", None)
    assert main(["check", str(file)]) == 2
    assert capsys.readouterr().err.startswith("The file is larger than 200 MB")


def test_check_refuses_what_is_not_utf8(tmp_path, capsys):
    file = tmp_path / "export.json"
    file.write_bytes(CURRENT.read_text(encoding="utf-8").encode("utf-16"))
    assert main(["check", str(file)]) == 2
    assert capsys.readouterr().err.startswith("The file is not text in UTF-8")


def test_check_tells_a_file_that_is_not_there(tmp_path, capsys):
    assert main(["check", str(tmp_path / "none.json")]) == 1
    assert "cannot be read" in capsys.readouterr().err
