"""Export files: read strictly, shaped as a JSON Schema says, and never a reason to break."""

import json
import random
from datetime import datetime
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from records import (
    CURRENT,
    VERSION_1,
    VERSION_2,
    VERSION_3,
    VERSION_4,
    VERSION_5,
    VERSION_6,
    current,
    sealed,
    spoilt,
    torn,
    version_1,
    version_2,
    version_3,
    version_4,
    version_5,
    version_6,
)
from tankfoot.calculators import calculators
from tankfoot.office.formats import documents
from tankfoot.office.transfer import export_file, read_file
from tankfoot.record.bodies import BODIES
from tankfoot.record.entry import check_entry
from tankfoot.record.json_schema import json_schema
from tankfoot.wording import file_sentence
from values import json_values, unhurried

DOCS = Path(__file__).parents[1] / "docs"


def test_a_file_of_today_is_read_whole():
    contents = read_file(CURRENT.read_text(encoding="utf-8"))
    assert contents.problems == []
    assert contents.entries == current()["entries"]


# What schema version 2 added, written out by hand: docs/formats.md.
ADDED_IN_2 = {"purge": {"table": "1", "initials": None}, "tank": {"stack": None, "cap_way": None}}


SINCE_2 = [
    (VERSION_2, version_2), (VERSION_3, version_3), (VERSION_4, version_4), (VERSION_5, version_5),
    (VERSION_6, version_6),
]


@pytest.mark.parametrize("path, made", SINCE_2)
def test_a_file_of_a_schema_version_since_2_is_read_as_it_is(path, made):
    contents = read_file(path.read_text(encoding="utf-8"))
    assert contents.problems == []
    assert contents.entries == made()["entries"]


def test_a_file_of_schema_version_1_is_read_whole_and_migrated():
    contents = read_file(VERSION_1.read_text(encoding="utf-8"))
    assert contents.problems == []
    for ours, theirs in zip(contents.entries, version_1()["entries"], strict=True):
        for new, old in [(ours["body"], theirs["body"]), *zip(_bodies(ours), _bodies(theirs), strict=True)]:
            added = ADDED_IN_2.get(theirs["kind"], {}) if old else {}
            solids = {"solids": "mixed"} if old.get("solids") == "routine" else {}
            assert new == old | solids | added
        assert {**ours, "body": 0, "history": 0} == {**theirs, "body": 0, "history": 0}


def _bodies(entry):
    return [past["body"] for past in entry["history"]]


def test_what_is_damaged_in_an_old_file_is_refused_alone_and_never_breaks_the_migration():
    rng = random.Random(7)
    for _ in range(300):
        contents = read_file(json.dumps(sealed(spoilt(rng, version_1(), rng.randint(1, 4)))))
        assert contents.entries
        assert all(problem.code for problem in contents.problems)


def test_an_exported_file_is_read_again_with_every_key():
    entries = current()["entries"]
    text = export_file(entries, "1.2.3", "2026-03-01T07:05:09.120Z")
    head = json.loads(text)
    # reference library: rfc8785
    assert head["sha256"] == sealed({"entries": entries})["sha256"]
    assert read_file(text).entries == entries


def is_instant(text):
    if not isinstance(text, str):
        return True  # the keyword "format" is about texts alone
    try:
        return len(text) == 24 and datetime.fromisoformat(text) is not None
    except ValueError:
        return False


def judge():
    checker = jsonschema.FormatChecker(formats=[])
    checker.checks("date-time")(is_instant)
    schema = json_schema()
    entry = {"$schema": schema["$schema"], "$ref": "#/$defs/entry", "$defs": schema["$defs"]}
    return jsonschema.Draft202012Validator(entry, format_checker=checker)


def test_the_schema_for_others_is_a_json_schema():
    jsonschema.Draft202012Validator.check_schema(json_schema())
    jsonschema.validate(current(), json_schema())


def test_entries_are_judged_as_a_json_schema_library_judges_them():
    rng, outside, accepted, refused = random.Random(1), judge(), 0, 0
    for _ in range(300):
        for entry in spoilt(rng, current(), rng.randint(1, 3))["entries"]:
            ours = check_entry(entry) == []
            # reference library: jsonschema, draft 2020-12
            assert ours == outside.is_valid(entry), entry
            accepted, refused = accepted + ours, refused + (not ours)
    assert accepted > 1000
    assert refused > 150


def test_whatever_the_form_of_a_tank_takes_the_record_takes():
    inputs, shapes = calculators()["tank"].fields, BODIES["tank"].described()["properties"]
    for name in inputs.keys() & shapes.keys():
        shape = shapes[name]
        assert shape.get("minimum", shape.get("exclusiveMinimum")) <= inputs[name].low, name
        assert shape["maximum"] >= inputs[name].high, name


def test_no_file_however_torn_breaks_the_reader():
    rng, whole = random.Random(2), CURRENT.read_text(encoding="utf-8")
    for _ in range(1500):
        contents = read_file(torn(rng, whole))
        assert contents.entries == [] or contents.entries == current()["entries"]
        assert contents.problems or contents.entries
        assert all(file_sentence(problem) for problem in contents.problems)


@given(json_values)
@unhurried
def test_no_json_value_breaks_the_reader(value):
    contents = read_file(json.dumps(value))
    assert contents.entries == []
    assert len(contents.problems) == 1


@pytest.mark.parametrize("name", documents())
def test_the_written_down_formats_are_current(name):
    assert (DOCS / name).read_text(encoding="utf-8") == documents()[name]
