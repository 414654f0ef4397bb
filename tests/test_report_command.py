"""``tankfoot report``: figures against pandas, a page that needs nothing else, the same in any order of the files."""

import json
import random
import re
from pathlib import Path

import pandas
import pytest
import tankfoot
from pypdf import PdfReader
from tankfoot.cli import main
from tankfoot.office.transfer import export_file

DEMO = Path(tankfoot.__file__).parent / "site" / "assets" / "demo" / "record.json"
MADE = "2026-06-02T12:00:00.000Z"
MEASURES = {"volume_lost": "volume_lost", "overrun": "overrun", "solids": "solids", "beer_in_solids": "beer_in_solids",
            "co2_mass": "top_up_mass", "money": "money_lost"}


@pytest.fixture(scope="module")
def entries():
    return [entry | {"demo": False} for entry in json.loads(DEMO.read_text(encoding="utf-8"))["entries"]]


@pytest.fixture(scope="module")
def phones(entries, tmp_path_factory):
    """The record on three phones, each with a part of it; some is on two, one of them older, one purge deleted."""
    folder, rng = tmp_path_factory.mktemp("phones"), random.Random(15)
    parts = [[], [], []]
    for entry in entries:
        for part in rng.sample(parts, rng.choice((1, 1, 2))):
            part.append(entry)
    older = next(entry for entry in entries if entry["kind"] == "purge" and entry["body"].get("state") == "saved")
    parts[0] = [entry for entry in parts[0] if entry["id"] != older["id"]]
    parts[0].append(older | {"edited": "2001-01-01T00:00:00.000Z", "deleted": True})
    if older not in parts[1]:
        parts[1].append(older)
    paths = [folder / f"phone-{number}.json" for number in range(3)]
    for path, part in zip(paths, parts, strict=True):
        path.write_text(export_file(part, "0.1.0", MADE), encoding="utf-8")
    return paths


@pytest.fixture(scope="module")
def frame(entries):
    """The purges as pandas sees them; days by its own zones."""
    beers = {entry["id"]: entry["body"]["beer"] for entry in entries if entry["kind"] == "batch"}
    rows = []
    for entry in entries:
        if entry["kind"] == "purge" and entry["body"].get("state") == "saved":
            body = entry["body"]
            opened = [event["at"] for event in body["events"] if event["event"] == "opened"][-1]
            taps = pandas.Series(pandas.to_datetime([event["at"] for event in body["events"]]))
            seconds = taps.diff().dt.total_seconds()
            rows.append({"at": opened, "tanks": body["tank_name"], "kinds": body["solids"],
                         "seconds": seconds[seconds < 1800].sum(),
                         **{name: told["value"] for name, told in body["result"].items()}})
    made = pandas.DataFrame(rows)
    made["months"] = pandas.to_datetime(made["at"]).dt.tz_convert("America/New_York").dt.strftime("%Y-%m")
    assert len(beers) == 8
    return made


def figures(capsys, *arguments):
    assert main(["report", "--json", "--zone", "America/New_York", *map(str, arguments)]) == 0
    return json.loads(capsys.readouterr().out)


# pandas: sum, median and count by group leave out what is missing.
@pytest.mark.parametrize("by, group", [("tanks", "tanks"), ("solids", "kinds"), ("months", "months")])
def test_the_figures_are_those_of_pandas(capsys, phones, frame, by, group):
    told = figures(capsys, *phones)
    assert set(told[by]) == set(frame[group])
    for name, column in {**MEASURES, "seconds": "seconds"}.items():
        theirs = frame.groupby(group)[column]
        for key, ours in told[by].items():
            assert ours[name]["sum"] == pytest.approx(theirs.sum()[key], rel=1e-12)
            assert ours[name]["median"] == pytest.approx(theirs.median()[key], rel=1e-12)
    for name, column in MEASURES.items():
        assert told["all"][name]["sum"] == pytest.approx(frame[column].sum(), rel=1e-12)
    assert told["all"]["purges"] == len(frame)


def test_any_order_of_the_files_gives_the_same_figures_and_the_same_page(capsys, phones, tmp_path):
    pages = []
    for order in (phones, phones[::-1], [phones[1], phones[0], phones[2], phones[1]]):
        page = tmp_path / "report.html"
        assert main(["report", *map(str, order), "--zone", "UTC", "-o", str(page)]) == 0
        capsys.readouterr()
        pages.append((figures(capsys, *order), page.read_text(encoding="utf-8")))
    assert pages[0] == pages[1] == pages[2]


def test_invented_purges_count_only_where_that_is_asked_for(capsys):
    assert figures(capsys, DEMO)["all"]["purges"] == 0
    assert figures(capsys, DEMO, "--demo")["all"]["purges"] == 83


def test_every_batch_of_the_record_has_its_figures(capsys, phones):
    told = figures(capsys, *phones)
    assert len(told["batches"]) == 8
    assert sum(made["purges"] for made in told["batches"].values()) < told["all"]["purges"]


def test_without_a_place_for_the_page_it_says_what_to_do(capsys, phones):
    assert main(["report", str(phones[0])]) == 2
    assert "-o report.html" in capsys.readouterr().err


@pytest.fixture(scope="module")
def page_file(phones, tmp_path_factory):
    path = tmp_path_factory.mktemp("page") / "report.html"
    assert main(["report", *map(str, phones), "--zone", "America/New_York", "-o", str(path)]) == 0
    return path


def test_the_page_needs_no_script_and_no_other_file(page_file):
    text = page_file.read_text(encoding="utf-8")
    assert "<script" not in text
    assert re.findall(r"\b(?:src|href)=|url\(", text) == []
    assert re.findall(r"https?://", text) == []


def test_what_left_is_the_sum_of_its_parts_in_one_unit(page_file):
    says = re.search(r"Left through the bottom port: [^<]*", page_file.read_text(encoding="utf-8"))[0]
    whole, *parts = [float(number) for number in re.findall(r"([\d.]+) gal", says)]
    assert len(parts) == 3 and whole == pytest.approx(sum(parts), rel=0.01)  # each of them has three digits


@pytest.fixture(scope="module")
def shown(chromium, page_file):
    context = chromium.new_context(java_script_enabled=False, viewport={"width": 360, "height": 640})
    page = context.new_page()
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(page_file.as_uri())
    yield page, asked
    context.close()


def test_it_is_read_on_a_phone_without_sliding(shown, page_file):
    page, asked = shown
    assert asked == [page_file.as_uri()]
    assert page.locator("h1").inner_text() == "What it cost"
    assert page.locator("figure svg[role=img]").count() > 8
    box = page.locator("main").bounding_box()
    assert box["width"] <= 360
    for table in page.locator("table").all():
        assert table.locator("tbody tr").count() > 0


@pytest.mark.parametrize("paper, width", [("A4", 595), ("Letter", 612)])
def test_it_prints(shown, tmp_path, paper, width):
    page, _ = shown
    file = tmp_path / "report.pdf"
    page.pdf(path=str(file), format=paper, prefer_css_page_size=False)
    pages = PdfReader(file).pages
    assert abs(pages[0].mediabox.width - width) <= 1.0
    text = "".join(each.extract_text() for each in pages)
    assert all(says in text for says in ("Sample 6", "Overrun", "Is it getting better?", "Counted by month"))
    assert len(pages) < 12


def test_no_figure_and_no_line_is_by_person(phones, tmp_path, capsys):
    marked = []
    for number, path in enumerate(phones):
        data = json.loads(path.read_text(encoding="utf-8"))
        for entry in data["entries"]:
            if entry["kind"] == "purge" and entry["body"]:
                entry["body"]["initials"] = "QZX"
        file = tmp_path / f"marked-{number}.json"
        file.write_text(export_file(data["entries"], "0.1.0", MADE), encoding="utf-8")
        marked.append(file)
    page = tmp_path / "report.html"
    assert main(["report", "--json", *map(str, marked), "-o", str(page)]) == 0
    assert "QZX" not in capsys.readouterr().out + page.read_text(encoding="utf-8")
