"""How far the camera can be trusted: figures by hand, the same at a desk and on a phone, and strips of many runs."""

import copy
import json
import os
import random
from base64 import b64decode
from datetime import datetime, timedelta
from io import BytesIO

import pandas
import pytest
from drawn_purges import instant
from PIL import Image
from playwright.sync_api import expect
from records import current, sealed
from tankfoot.cli import main
from tankfoot.office.taken import STRIPS
from tankfoot.report.facts import as_columns, fact_of
from tankfoot.report.strips import image_of, run_of, strip, strips
from tankfoot.report.trust import trust_of
from tankfoot.watch.strip import text_of
from test_record import WRITE, ready

COUNT = 55


def watched_purges(count=COUNT):
    """Purges a day apart, whose camera was off by a few seconds, or saw nothing."""
    rng, base = random.Random("trust"), current()["entries"][-1]
    for number in range(count):
        entry = copy.deepcopy(base) | {"history": []}
        entry["id"] = f"{number:08d}-7777-4777-8777-777777777777"
        body, later = entry["body"], timedelta(days=number)
        for event in body["events"]:
            event["at"] = instant(datetime.fromisoformat(event["at"]) + later)
        entry["created"] = entry["edited"] = body["events"][0]["at"]
        body["tank_name"] = rng.choice(("FV 1", "FV 2", "The tall tank beside the doors"))
        body["result"] = entry["body"]["result"]
        body["watched"] |= {"taken": False, "beer_at": rng.choice((None, 61.0, 62.5, 63.0, 64.5, 67.25)), "from": 0.5,
                            "every": 95.0 / (len(body["watched"]["colours"]) / 4), "unseen": []}
        yield entry


def facts(entries):
    return as_columns([fact_of(entry, None) for entry in entries])


def test_the_figures_are_those_of_a_data_frame():
    entries = [*watched_purges()]
    told = trust_of(facts(entries), range(COUNT))
    # reference: pandas; the tap of every one is 64 s after opened
    seen = pandas.Series([entry["body"]["watched"]["beer_at"] for entry in entries], dtype=float)
    later = (seen - 64.0).dropna()
    assert told == {
        "watched": COUNT, "tapped": COUNT, "close": (later.abs() <= 2.0).sum(), "missed": seen.isna().sum(),
        "early": (later < -2.0).sum(), "late": (later > 2.0).sum(), "median": pytest.approx(later.median()),
    }


def test_too_few_tell_nothing_usual():
    # common practice, no source: three at least
    entries = [entry for entry in watched_purges() if entry["body"]["watched"]["beer_at"] is not None]
    told = [trust_of(facts(entries[:count]), range(count))["median"] for count in (1, 2, 3)]
    assert told[:2] == [None, None] and told[2] is not None


def test_a_taken_time_hides_nothing_of_how_far_it_was_off():
    entries = [*watched_purges()]
    before = trust_of(facts(entries), range(COUNT))
    for entry in entries:
        entry["body"]["watched"]["taken"] = True
    assert trust_of(facts(entries), range(COUNT)) == before


def test_nobody_is_told_apart():
    entries = [*watched_purges()]
    before = facts(entries)
    for place, entry in enumerate(entries):
        entry["body"]["initials"] = "AB" if place % 2 else "CD"
    assert facts(entries) == before


def written(tmp_path, entries):
    file = tmp_path / "export.json"
    file.write_text(json.dumps(sealed(current() | {"entries": [*entries]})), encoding="utf-8")
    return str(file)


def test_a_desk_prints_the_share_and_the_last_fifty_strips(tmp_path, capsys):
    file = written(tmp_path, watched_purges())
    assert main(["report", file, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["trust"]
    assert told == trust_of(facts(watched_purges()), range(COUNT))
    assert main(["report", file, "-o", str(tmp_path / "report.html"), "--zone", "UTC"]) == 0
    page = (tmp_path / "report.html").read_text(encoding="utf-8")
    assert page.count("<image ") == STRIPS == 50
    assert f"A camera watched {COUNT} purges." in page
    assert f"{told['close']} of {COUNT} within 2 s" in page


def test_a_report_of_a_site_without_a_camera_says_nothing_of_one(tmp_path, capsys):
    entries = [*watched_purges(3)]
    for entry in entries:
        del entry["body"]["watched"]
    file = written(tmp_path, entries)
    assert main(["report", file, "-o", str(tmp_path / "report.html"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["trust"] is None
    assert "<image " not in (tmp_path / "report.html").read_text(encoding="utf-8")


def test_the_newest_version_of_a_purge_is_the_one_whose_strip_is_shown(tmp_path, capsys):
    (entry,) = watched_purges(1)
    newer = copy.deepcopy(entry) | {"edited": "2026-06-01T00:00:00.000Z"}
    newer["body"]["tank_name"] = "FV 9"
    files = []
    for name, each in (("a", entry), ("b", newer)):
        (tmp_path / name).mkdir()
        files.append(written(tmp_path / name, [each]))
    assert main(["report", *files, "-o", str(tmp_path / "report.html")]) == 0
    page = (tmp_path / "report.html").read_text(encoding="utf-8")
    assert page.count("<image ") == 1 and ", FV 9<" in page


WORDS = {"title": "", "says": ""}
KEY = {name: name for name in ("opened", "closed", "seen", "tapped", "beer", "unseen")}


def run(**more):
    watched = {"from": 0.0, "every": 0.5, "colours": text_of([[1, 2, 3]] * 4), "unseen": []}
    return {"run": 81.0, "change": 40.5, "tapped": 40.5, "seen": None, "watched": watched} | more


def marks(picture, kind):
    return [mark[1] for mark in picture["marks"] if mark[1]["class"] == kind]


def test_places_on_a_strip_are_to_scale():
    # By hand: 324 px for 81 s, 4 px a second from 2 on; four colours of half a second are 8 px.
    picture = strip(run(seen=20.25), WORDS | KEY)
    (colours,) = marks(picture, "colours")
    assert (colours["x"], colours["width"]) == ("2", "8")
    assert marks(picture, "change")[0]["d"].startswith("M164 ")
    assert marks(picture, "beer")[0]["d"].startswith("M164 74H326")
    assert [marks(picture, kind)[0]["d"].split("l")[0] for kind in ("seen", "tapped")] == ["M83 17", "M164 90"]


def test_strips_below_one_another_have_one_scale():
    rows = [run(run=each, change=None) | {"label": "FV 1", "text": ""} for each in (81.0, 40.5)]
    ends = [mark["d"].split("H")[1].split("V")[0] for mark in marks(strips(rows, 81.0, WORDS), "open")]
    assert ends == ["326", "164"]


@pytest.mark.parametrize("missing", ["seen", "tapped", "change"])
def test_what_there_was_not_is_not_drawn(missing):
    picture = strip(run(seen=30.0) | {missing: None}, WORDS | KEY)
    assert missing not in {mark[1]["class"] for mark in picture["marks"]}
    assert {"seen": "seen", "tapped": "tapped", "change": "beer"}[missing] not in {mark[2] for mark in picture["marks"]}


def test_a_picture_of_colours_is_a_bitmap_that_another_library_reads():
    for count in (1, 2, 3, 4, 5, 500):
        colours = [[place % 256, 255 - place % 256, 7] for place in range(count)]
        address = image_of(text_of(colours))
        image = Image.open(BytesIO(b64decode(address.removeprefix("data:image/bmp;base64,"))))
        # reference library: Pillow
        assert (image.format, image.size, image.mode) == ("BMP", (count, 1), "RGB")
        assert [[*image.getpixel((x, 0))] for x in range(count)] == colours


def test_a_run_whose_clock_was_set_back_is_not_drawn():
    (entry,) = watched_purges(1)
    assert run_of(entry["body"])["run"] == 95.0
    for event in entry["body"]["events"]:
        if event["event"] == "opened":
            event["at"] = "2026-12-01T00:00:00.000Z"
    assert run_of(entry["body"]) is None


SIZES = {"tall": {"width": 390, "height": 844}, "small": {"width": 360, "height": 640}}


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_an_owner_sees_fifty_strips_below_one_another(chromium, served, size, look):
    context = chromium.new_context(service_workers="block", viewport=SIZES[size], color_scheme=look)
    page = context.new_page()
    page.goto(f"{served.address}record/")
    ready(page)
    page.evaluate(WRITE, [*watched_purges()])
    page.goto(f"{served.address}cost/")
    expect(page.locator("main[data-ready=whole]")).to_be_attached()
    page.locator("[data-period]").select_option("all")
    expect(page.locator("[data-seen] image")).to_have_count(50)
    page.locator("[data-seen] summary").click()
    told = trust_of(facts(watched_purges()), range(COUNT))
    expect(page.locator("[data-trust]")).to_contain_text(f"A camera watched {COUNT} purges.")
    expect(page.locator("[data-trust]")).to_contain_text(f"{told['close']} of {COUNT} within 2 s of the tap")
    if "SHOTS" in os.environ:
        page.locator("[data-seen] summary").scroll_into_view_if_needed()
        page.locator("[data-seen]").screenshot(path=f"{os.environ['SHOTS']}/strips-{size}-{look}.png")
    assert page.evaluate("""() => [...document.querySelectorAll(".run-strips")].every((svg) => {
      const texts = [...svg.querySelectorAll("text")].map((text) => text.getBoundingClientRect());
      const { left, right } = svg.getBoundingClientRect();
      return texts.every((box) => box.left >= left - 8 && box.right <= right + 8)
        && texts.every((one, at) => at % 2 === 1 || one.right <= texts[at + 1].left);
    })""")
    context.close()
