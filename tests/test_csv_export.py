"""The finished purges as a table for a spreadsheet."""

import csv
import io

import pytest
from records import current
from tankfoot.office.csv_export import purges_csv


def rows(system="metric"):
    table = io.StringIO(purges_csv(current()["entries"], system), newline="")
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
    text = purges_csv(current()["entries"], "us")
    # RFC 4180, section 2: CRLF ends every line; a quote inside quotes is doubled
    assert text.endswith("\r\n")
    assert text.replace("\r\n", "").count("\r") == 0
    assert 'the ""new"" hand' in text
