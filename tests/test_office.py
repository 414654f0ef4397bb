"""The record's file side: read strictly, merged in any order, written the same way everywhere."""

import csv
import io
import itertools
import json
import math
import random
import struct
from datetime import datetime
from pathlib import Path

import jsonschema
import pytest
import rfc8785
from hypothesis import given, settings
from hypothesis import strategies as st
from records import VERSION_1, sealed, spoilt, torn, version_1
from tankfoot.calculators import calculators
from tankfoot.cli import main
from tankfoot.office import check
from tankfoot.office.canonical import NotCanonical, canonical, number
from tankfoot.office.csv_export import purges_csv
from tankfoot.office.formats import documents
from tankfoot.office.merge import merge_entries
from tankfoot.office.record import BODIES
from tankfoot.office.shapes import json_schema
from tankfoot.office.transfer import export_file, read_file

DOCS = Path(__file__).parents[1] / "docs"

# RFC 8785, appendix B, as reprinted in the tests of several implementations of it
APPENDIX_B = {
    "0000000000000000": "0", "8000000000000000": "0",
    "0000000000000001": "5e-324", "8000000000000001": "-5e-324",
    "7fefffffffffffff": "1.7976931348623157e+308", "ffefffffffffffff": "-1.7976931348623157e+308",
    "4340000000000000": "9007199254740992", "c340000000000000": "-9007199254740992",
    "4430000000000000": "295147905179352830000", "44b52d02c7e14af5": "9.999999999999997e+22",
    "44b52d02c7e14af6": "1e+23", "44b52d02c7e14af7": "1.0000000000000001e+23",
    "444b1ae4d6e2ef4e": "999999999999999700000", "444b1ae4d6e2ef4f": "999999999999999900000",
    "444b1ae4d6e2ef50": "1e+21", "3eb0c6f7a0b5ed8c": "9.999999999999997e-7", "3eb0c6f7a0b5ed8d": "0.000001",
    "41b3de4355555553": "333333333.3333332", "41b3de4355555554": "333333333.33333325",
    "41b3de4355555555": "333333333.3333333", "41b3de4355555556": "333333333.3333334",
    "41b3de4355555557": "333333333.33333343", "becbf647612f3696": "-0.0000033333333333333333",
    "43143ff3c1cb0959": "1424953923781206.2",
}

unhurried = settings(deadline=None)  # a busy machine is no fault of the record's
finite = st.floats(allow_nan=False, allow_infinity=False)
texts = st.text(st.characters(exclude_categories=["Cs"]))
json_values = st.recursive(
    st.none() | st.booleans() | finite | texts,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts, inner, max_size=4),
    max_leaves=20,
)


@pytest.mark.parametrize(("bits", "text"), APPENDIX_B.items())
def test_numbers_are_written_as_the_standard_prints_them(bits, text):
    # RFC 8785, appendix B
    assert number(struct.unpack(">d", bytes.fromhex(bits))[0]) == text


@given(json_values)
@unhurried
def test_canonical_text_is_that_of_another_implementation(value):
    # reference library: rfc8785
    assert canonical(value).encode() == rfc8785.dumps(value)


@pytest.mark.parametrize(("value", "code"), [
    (math.nan, "not-finite"), ([math.inf], "not-finite"), (json.loads("[" * 40 + "]" * 40), "too-deep"),
])
def test_what_json_cannot_hold_has_no_canonical_text(value, code):
    with pytest.raises(NotCanonical) as refused:
        canonical(value)
    assert refused.value.code == code


def test_half_a_surrogate_pair_is_written_as_its_escape():
    # ECMA-262, QuoteJSONString: a lone surrogate is written as \u and four small hex digits
    assert canonical(json.loads('"\\uD83D x \\ud83d\\ude00"')) == '"\\ud83d x 😀"'


def test_a_file_of_schema_version_1_is_read_whole():
    contents = read_file(VERSION_1.read_text(encoding="utf-8"))
    assert contents.problems == []
    assert contents.entries == version_1()["entries"]


def test_an_exported_file_is_read_again_with_every_key():
    entries = version_1()["entries"]
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


def alone(entries):
    """Those of the entries that share their id with no other."""
    ids = [entry.get("id") if isinstance(entry, dict) else None for entry in entries]
    return [entry for entry, id in zip(entries, ids, strict=True) if id is None or ids.count(id) == 1]


def test_the_schema_for_others_is_a_json_schema():
    jsonschema.Draft202012Validator.check_schema(json_schema())
    jsonschema.validate(version_1(), json_schema())


def test_entries_are_judged_as_a_json_schema_library_judges_them():
    rng, outside, accepted, refused = random.Random(1), judge(), 0, 0
    for _ in range(300):
        entries = spoilt(rng, version_1(), rng.randint(1, 3))["entries"]
        text = json.dumps(sealed(version_1() | {"entries": entries}))
        right = read_file(text).entries
        for entry in alone(entries):
            ours = entry in right
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
    rng, whole = random.Random(2), VERSION_1.read_text(encoding="utf-8")
    for _ in range(1500):
        contents = read_file(torn(rng, whole))
        assert contents.entries == [] or contents.entries == version_1()["entries"]
        assert contents.problems or contents.entries
        assert all(problem.says.strip() for problem in contents.problems)


@given(json_values)
@unhurried
def test_no_json_value_breaks_the_reader(value):
    contents = read_file(json.dumps(value))
    assert contents.entries == []
    assert len(contents.problems) == 1


def changed(**members):
    return json.dumps(version_1() | members)


def entry_changed(place, **members):
    data = version_1()
    data["entries"][place] |= members
    return json.dumps(sealed(data))


TWICE = sealed(version_1() | {"entries": version_1()["entries"][:1] * 2})
WRONG = {
    "empty": ("", "The file is not JSON, or was cut short."),
    "cut short": (VERSION_1.read_text(encoding="utf-8")[:-10], "The file is not JSON, or was cut short."),
    "another's": ('{"format": "else"}', "The file is no record of Tankfoot's"),
    "a list": ("[]", "The file is no record of Tankfoot's"),
    "newer": (changed(schema_version=2), "The file was written by a newer Tankfoot: its"),
    "no version": (changed(schema_version="1"), "schema_version must be the whole number 1"),
    "miscounted": (changed(count=7), "count does not fit: there are 8 entries."),
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
    assert check.summary(version_1()["entries"]).startswith("1 tank, 2 purges, 1 checklist run")


def test_check_reckons_the_purges_of_an_old_file_again(capsys):
    assert main(["check", str(VERSION_1)]) == 2
    said = capsys.readouterr().err.splitlines()
    (overrun,) = [line for line in said if "overrun" in line]
    # by hand: 9.5 s of 70 s of the stored 31.48 L are 4.27 L, and the file says 4.2 L
    assert overrun.startswith("entries[1].body.result.overrun is stored as 0.0042, and its readings tell 0.0042")
    assert overrun.endswith("(entry 00000002-1111-4111-8111-111111111111)")


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
    file.write_bytes(VERSION_1.read_text(encoding="utf-8").encode("utf-16"))
    assert main(["check", str(file)]) == 2
    assert capsys.readouterr().err.startswith("The file is not text in UTF-8")


def test_check_tells_a_file_that_is_not_there(tmp_path, capsys):
    assert main(["check", str(tmp_path / "none.json")]) == 1
    assert "cannot be read" in capsys.readouterr().err


# Few ids and few instants, so that phones meet at the same entry and at the same moment.
phone_entries = st.builds(
    dict, id=st.sampled_from("abc"), deleted=st.booleans(),
    edited=st.sampled_from(["2026-01-01", "2026-01-02"]),
    body=st.dictionaries(st.sampled_from(["a", "\ue000", "😀"]), finite | texts, max_size=2),
)
phones = st.lists(phone_entries, max_size=4, unique_by=lambda entry: entry["id"])


@given(st.lists(phones, min_size=2, max_size=3))
@settings(unhurried, max_examples=300)
def test_phones_merged_in_any_order_give_the_same_record(records):
    results = []
    for order in itertools.permutations(records):
        merged = []
        for record in order:
            merged = merge_entries(merged, record).entries
        results.append(merged)
    assert all(result == results[0] for result in results)
    for entry in results[0]:
        alike = [other for record in records for other in record if other["id"] == entry["id"]]
        assert entry["edited"] == max(other["edited"] for other in alike)


@given(phones, phones)
@unhurried
def test_the_plan_says_what_the_merge_does(mine, theirs):
    merged, held = merge_entries(mine, theirs), {entry["id"]: entry for entry in mine}
    assert [step.id for step in merged.plan] == [entry["id"] for entry in theirs]
    for step, entry in zip(merged.plan, theirs, strict=True):
        taken = entry in merged.changed
        assert taken == (step.action in ("new", "newer"))
        assert (step.action == "new") == (entry["id"] not in held)
        assert (step.action == "same") == (held.get(entry["id"]) == entry)
    assert merge_entries(merged.entries, theirs).changed == []


def test_refused_entries_are_in_the_plan():
    contents = read_file(entry_changed(3, body={}))
    plan = merge_entries([], contents.entries, contents.problems).plan
    assert [step.action for step in plan].count("new") == 7
    assert plan[-1].action == "refused"
    assert plan[-1].why.startswith("entries[3].body")


def rows(system="metric"):
    table = io.StringIO(purges_csv(version_1()["entries"], system), newline="")
    return list(csv.DictReader(table, strict=True))


def test_the_table_has_the_finished_purges_with_units_in_the_header():
    (row,) = rows()
    assert row["volume_lost_L"] == "31.48"
    assert row["open_s"] == "70"
    assert row["past_colour_change_s"] == "9.5"
    assert row["opened"] == "2026-02-02T06:03:00.000Z"
    # NIST SP 811, appendix B: one US gallon is 3.785412 L
    assert float(rows("us")[0]["volume_lost_gal"]) == pytest.approx(31.48 / 3.785412, rel=1e-5)


def test_a_text_that_a_spreadsheet_would_work_out_is_held_back():
    (row,) = rows()
    # OWASP, CSV Injection: an apostrophe in front of a cell that begins with = + - @, tab or carriage return
    assert row["notes"] == "'=1+1, said the \"new\" hand;\nline two 😀"
    assert row["temperature"] == "−1 °C"
    assert row["saved_L"] == "-0.001"


def test_lines_of_the_table_end_as_the_standard_says():
    text = purges_csv(version_1()["entries"], "us")
    # RFC 4180, section 2: CRLF ends every line; a quote inside quotes is doubled
    assert text.endswith("\r\n")
    assert text.replace("\r\n", "").count("\r") == 0
    assert 'the ""new"" hand' in text


@pytest.mark.parametrize("name", documents())
def test_the_written_down_formats_are_current(name):
    assert (DOCS / name).read_text(encoding="utf-8") == documents()[name]
