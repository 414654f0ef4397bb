"""``tankfoot table``: typed rows, the sums of the report and of a spreadsheet, and what docs/office.md asks of them."""

import csv
import io
import json
import math
import re
from pathlib import Path

import duckdb
import pandas
import pyarrow.parquet
import pytest
import tankfoot
from tankfoot.cli import main
from tankfoot.office.transfer import export_file

ROOT = Path(__file__).parents[1]
DEMO = Path(tankfoot.__file__).parent / "site" / "assets" / "demo" / "record.json"
MADE = "2026-06-02T12:00:00.000Z"
ZONE = "America/New_York"
SQL = re.findall(r"```sql\n(.*?)```", (ROOT / "docs" / "office.md").read_text(encoding="utf-8"), re.DOTALL)


@pytest.fixture(scope="module")
def entries():
    return [entry | {"demo": False} for entry in json.loads(DEMO.read_text(encoding="utf-8"))["entries"]]


@pytest.fixture(scope="module")
def folder(entries, tmp_path_factory):
    """Two phones with half of the record each, and one that has a part of both."""
    made = tmp_path_factory.mktemp("phones")
    for name, some in {"a": entries[::2], "b": entries[1::2], "c": entries[40:90]}.items():
        (made / f"{name}.json").write_text(export_file(some, "0.1.0", MADE), encoding="utf-8")
    return made


def table(folder, name, *order):
    path = folder / name
    files = [str(folder / f"{each}.json") for each in order or "abc"]
    assert main(["table", *files, "-o", str(path), "--zone", ZONE]) == 0
    return path


@pytest.fixture(scope="module")
def parquet(folder):
    return pandas.read_parquet(table(folder, "purges.parquet"))


def test_every_column_has_its_type(parquet):
    kinds = {name: str(kind) for name, kind in parquet.dtypes.items()}
    assert kinds["volume_lost_m3"] == kinds["flow_m3_per_s"] == kinds["beer_share"] == "float64"
    assert kinds["skips"] == kinds["cards_opened"] == "int64"
    assert kinds["opened"].startswith("datetime64") and kinds["opened"].endswith("UTC]")
    assert kinds["beer_share_assumed"] == "bool"


def test_its_sums_are_those_of_the_report(parquet, folder, capsys):
    files = [str(folder / f"{name}.json") for name in "abc"]
    assert main(["report", "--json", "--zone", ZONE, *files]) == 0
    told = json.loads(capsys.readouterr().out)
    names = {"volume_lost": "volume_lost_m3", "overrun": "overrun_m3", "solids": "solids_m3", "co2_mass": "co2_mass_kg",
             "beer_in_solids": "beer_in_solids_m3", "seconds": "hand_s", "money": "money_lost"}
    for name, column in names.items():
        assert parquet[column].sum() == pytest.approx(told["all"][name]["sum"], rel=1e-12)
        by_tank = parquet.groupby("tank")[column]
        for tank, made in told["tanks"].items():
            assert by_tank.sum()[tank] == pytest.approx(made[name]["sum"], rel=1e-12)
    assert set(parquet["batch"].dropna()) == set(told["batches"])
    assert set(parquet["opened_local"].str[:7]) == set(told["months"])


def test_a_reading_stands_there_in_si(parquet, entries):
    purges = [entry for entry in entries if entry["kind"] == "purge"]
    purge = next(entry for entry in purges if "beer_share" in entry["body"].get("readings", {}))
    row = parquet[parquet["id"] == purge["id"]].iloc[0]
    assert row["beer_share"] == pytest.approx(float(purge["body"]["readings"]["beer_share"].split()[0]) / 100.0)
    assert not row["beer_share_assumed"]
    # NIST SP 811, appendix B: one psi is 6894.757 Pa
    assert row["pressure_after_pa"] == pytest.approx(
        float(purge["body"]["readings"]["pressure_after"].split()[0]) * 6894.757, rel=1e-6)
    assert row["flow_m3_per_s"] == pytest.approx(row["volume_lost_m3"] / row["open_s"])


def test_csv_and_parquet_say_the_same_in_any_order_of_the_files(parquet, folder):
    text = table(folder, "one.csv").read_bytes()
    assert text == table(folder, "two.csv", *"cba").read_bytes()
    assert text.count(b"\r\n") == len(parquet) + 1
    rows = list(csv.DictReader(io.StringIO(text.decode(), newline=""), strict=True))
    for theirs, ours in zip(rows, parquet.to_dict("records"), strict=True):
        for name in ("overrun_m3", "money_lost", "temperature_k", "hand_s"):
            assert theirs[name] == ("" if math.isnan(ours[name]) else repr(ours[name]))
        assert theirs["id"] == ours["id"]
        assert theirs["beer_share_assumed"] == str(ours["beer_share_assumed"]).lower()


def noted(entries, notes, folder):
    """Writes a file in which every finished purge has these ``notes``."""
    changed = json.loads(json.dumps(entries))
    for entry in changed:
        if entry["kind"] == "purge" and entry["body"].get("state") == "saved":
            entry["body"]["notes"] = notes
    (folder / "a.json").write_text(export_file(changed, "0.1.0", MADE), encoding="utf-8")


def test_a_text_that_a_spreadsheet_would_work_out_is_held_back(entries, tmp_path):
    noted(entries, "=1+1", tmp_path)
    text = table(tmp_path, "purges.csv", "a").read_text(encoding="utf-8")
    # OWASP, CSV Injection
    assert {row["notes"] for row in csv.DictReader(io.StringIO(text, newline=""))} == {"'=1+1"}


def test_half_a_surrogate_pair_in_a_note_stops_no_table(entries, tmp_path):
    """JSON may hold one (RFC 8259, 8.2), UTF-8 none: it is written as its escape."""
    noted(entries, "half \ud83d", tmp_path)
    assert set(pandas.read_parquet(table(tmp_path, "purges.parquet", "a"))["notes"]) == {"half \\ud83d"}
    assert set(pandas.read_csv(table(tmp_path, "purges.csv", "a"))["notes"]) == {"half \\ud83d"}


def test_another_kind_of_file_is_refused_with_a_sentence(folder, capsys):
    assert main(["table", str(folder / "a.json"), "-o", str(folder / "purges.xlsx")]) == 2
    assert ".csv" in capsys.readouterr().err


@pytest.mark.parametrize("sql", SQL, ids=range(len(SQL)))
def test_what_the_guide_asks_duckdb_is_answered(sql, folder, parquet):
    tables = folder / "tables"
    tables.mkdir(exist_ok=True)
    for name in "ab":
        path = table(folder, "half.parquet", name)
        path.replace(tables / f"{name}.parquet")
    answer = duckdb.sql(sql.replace("tables/", f"{tables}/")).df()
    assert len(answer) > 0
    if "litres" in answer:
        assert answer["litres"].sum() == pytest.approx(parquet["overrun_m3"].sum() * 1000.0, abs=0.05 * len(answer))
    if "m3" in answer:
        assert answer["m3"].sum() == pytest.approx(parquet["beer_in_solids_m3"].sum())


def test_the_types_in_the_file_are_those_of_parquet(folder):
    schema = pyarrow.parquet.read_schema(table(folder, "schema.parquet"))
    assert str(schema.field("opened").type) == "timestamp[ms, tz=UTC]"
    assert str(schema.field("overrun_m3").type) == "double"
