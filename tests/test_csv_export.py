"""The finished purges as a table for a spreadsheet."""

import csv
import io

import pytest
from records import current
from tankfoot.office.csv_export import COLUMNS, purges_csv
from tankfoot.purge.outcome import RESULTS


def rows(system="metric"):
    table = io.StringIO(purges_csv(current()["entries"], system), newline="")
    return list(csv.DictReader(table, strict=True))


def test_the_table_has_the_finished_purges_with_units_in_the_header():
    row, _ = rows()
    assert row["volume_lost_L"] == "31.48"
    assert row["open_s"] == "70"
    assert row["past_colour_change_s"] == "9.5"
    assert row["opened"] == "2026-02-02T06:03:00.000Z"
    # NIST SP 811, appendix B: one US gallon is 3.785412 L
    assert float(rows("us")[0]["volume_lost_gal"]) == pytest.approx(31.48 / 3.785412, rel=1e-5)


def test_every_result_has_its_give_or_take():
    row, _ = rows()
    # the kept file has 1e-7 m3 for what was saved, and none for the overrun
    assert (row["saved_give_or_take_L"], row["overrun_give_or_take_L"]) == ("0.0001", "")
    assert {f"{name}_give_or_take" for name in RESULTS} <= {name for name, _, _ in COLUMNS}


def test_a_text_that_a_spreadsheet_would_work_out_is_held_back():
    row, _ = rows()
    # OWASP, CSV Injection: an apostrophe in front of a cell that begins with = + - @, tab or carriage return
    assert row["notes"] == "'=1+1, said the \"new\" hand;\nline two 😀"
    assert row["temperature"] == "−1 °C"
    assert row["saved_L"] == "-0.001"


def test_lines_of_the_table_end_as_the_standard_says():
    text = purges_csv(current()["entries"], "us")
    # RFC 4180, section 2: CRLF ends every line; a quote inside quotes is doubled
    assert text.endswith("\r\n")
    assert text.replace("\r\n", "").count("\r") == 0
    assert 'the ""new"" hand' in text


def with_changes(change):
    entries = current()["entries"]
    entry, _ = [each for each in entries if each["kind"] == "purge" and each["body"].get("state") == "saved"]
    change(entry["body"])
    return entries


# OWASP, CSV Injection: a cell that begins with one of these, a line break and the full-width forms too.
@pytest.mark.parametrize("start", [*"=+-@\t\r\n", *"＝＋－＠"])
def test_no_beginning_of_a_formula_is_left(start):
    text = purges_csv(with_changes(lambda body: body.update(notes=f"{start}1+1")), "us")
    row, _ = csv.DictReader(io.StringIO(text, newline=""), strict=True)
    assert row["notes"] == f"'{start}1+1"


def test_every_text_is_quoted_and_no_number():
    text = purges_csv(current()["entries"], "metric")
    # Python's csv module makes of every field without quotes a number.
    for row in csv.reader(io.StringIO(text, newline=""), quoting=csv.QUOTE_NONNUMERIC, strict=True):
        assert len(row) == len(COLUMNS)
    assert ',"Kleiner Gärtank № 1",' in text
    assert ",31.48," in text


# By hand: opened at 06:03:00, colour at 06:04:00.5, closed at 06:04:10, then one instant of the three moved by hours.
@pytest.mark.parametrize("moved", [{"closed": -3}, {"opened": 3}, {"colour-change": -3}, {"colour-change": 3}])
def test_times_of_a_clock_that_was_set_back_are_not_told_as_if_they_were_right(moved):
    def move(body):
        for event in body["events"]:
            day, _, hour = event["at"].partition("T")
            event["at"] = f"{day}T{int(hour[:2]) + moved.get(event['event'], 0):02d}{hour[2:]}"

    text = purges_csv(with_changes(move), "metric")
    row, _ = csv.DictReader(io.StringIO(text, newline=""), strict=True)
    assert (row["open_s"], row["past_colour_change_s"], row["clock_set_back"]) == ("", "", "yes")


def test_where_the_clock_went_on_the_table_says_that_too():
    assert rows()[0]["clock_set_back"] == "no"


def told(kind, id, body, created="2026-01-01T00:00:00.000Z"):
    head = {"id": id, "kind": kind, "created": created, "edited": created, "deleted": False, "demo": False}
    return head | {"body": body, "history": []}


# By hand: the purge of the fixture began on 2 February 2026; the beer in its tank then, and none of those around it.
@pytest.mark.parametrize(("emptied", "beer"), [("2026-02-03T00:00:00.000Z", "Pale"), ("2026-02-01T00:00:00.000Z", "")])
def test_a_purge_has_the_batch_that_was_in_its_tank(emptied, beer):
    entries = current()["entries"]
    purge, _ = [each for each in entries if each["kind"] == "purge" and each["body"].get("state") == "saved"]

    def happened(event, at, batch, tank=purge["body"]["tank"]):
        body = {"batch": batch, "tank": tank, "tank_name": "", "event": event, "at": at, "amount": None, "days": None,
                "note": None, "by": None}
        return told("batch-event", f"{event} {at} {tank}", body)

    others = [each for each in entries if each["kind"] not in ("batch", "batch-event")]
    batches = [told("batch", name, {"beer": name, "notes": None}) for name in ("Pale", "Stout", "Elsewhere")]
    story = [
        happened("filled", "2026-01-10T00:00:00.000Z", "Pale"), happened("emptied", emptied, "Pale"),
        happened("filled", "2026-02-04T00:00:00.000Z", "Stout"),
        happened("filled", "2026-01-20T00:00:00.000Z", "Elsewhere", "another tank"),
    ]
    text = purges_csv([*others, *batches, *story], "metric")
    row, _ = csv.DictReader(io.StringIO(text, newline=""), strict=True)
    assert purge["created"].startswith("2026-02-02")
    assert row["batch"] == beer
