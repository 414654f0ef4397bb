"""Pictures of what purges cost: places by hand, room for every word on a small phone, one drawing in app and report."""

import math
import random
import re
import xml.etree.ElementTree as ET

import pytest
from drawn_pictures import (
    parts_and_whole,
    points_limits_words,
    rows_and_words,
    run_and_words,
    runs_a_scale_and_words,
)
from hypothesis import given
from hypothesis import strategies as st
from tankfoot.quantities.axis import round_numbers
from tankfoot.report.limits import natural_limits, signals
from tankfoot.report.pictures import LATEST_DRAWN, bar, dots, run_chart
from tankfoot.report.strips import strip, strips
from tankfoot.report.svg import svg_text
from tankfoot.site.sources import PACKAGE

SMALL_PHONE = {"width": 360, "height": 640}
LEAST_TEXT = 14  # px; the pictures stand in a page's margins and a figure's own: 24 px on each side
MARGINS = 24
RULES = {
    "above_limit": "more than the usual ups and downs", "below_limit": "less than the usual ups and downs",
    "run_above": "eight in a row above the usual", "run_below": "eight in a row below the usual",
}
WORDS = {
    "title": "Overrun", "says": "", "up": "Overrun, gal a purge", "centre": "usual 2.05", "low": "limit 1.05",
    "high": "limit 3.05", "rules": RULES,
}
LINES = {"centre": 2.0, "moving_range": 1.0, "low": 0.5, "high": 3.5}
WATCHED = {"run": 900.0, "change": 880.0, "tapped": 880.0, "seen": 879.0,
           "watched": {"from": 0.0, "every": 2.0, "colours": "AAAA" * 450, "unseen": [[3.0, 9.0, "fog"]]}}
LONG = {
    "opened": "opened", "closed": "closed after 1,000 s", "tapped": "tap: beer after 1,000 s",
    "seen": "camera: beer after 1,000 s", "beer": "beer ran 1,000 s", "unseen": "could not see: 1,000 s in all",
}
NAME = "The tall tank beside the doors to a yard"  # of 40 letters


def point(value, uncertainty=None, rule=None, day="28 Sep 2026"):
    return {"value": value, "uncertainty": uncertainty, "rule": rule, "day": day}


def marks(picture, *kinds):
    return [mark for mark in picture["marks"] if set(mark[1]["class"].split()) & set(kinds)]


def places(picture, kind, axis):
    return [float(mark[1][axis]) for mark in marks(picture, kind)]


def dot_rows(values, label="FV 1"):
    text = "12.3 ± 0.4 gal"
    return [{"label": label, "text": text, "value": value, "uncertainty": spread} for value, spread in values]


def parts(*values):
    kinds = ("solids", "beer_in_solids", "overrun")
    return [{"part": part, "label": part, "text": "1 gal", "value": value}
            for part, value in zip(kinds, values, strict=True)]


@given(st.floats(-1e6, 1e6), st.floats(0.0, 1e6))
def test_an_axis_is_round_and_holds_all(least, span):
    numbers = round_numbers(least, least + span)
    assert numbers[0] <= least and numbers[-1] >= least + span
    assert 2 <= len(numbers) <= 6
    step = numbers[1] - numbers[0]
    if step > 1e-9 * max(1.0, abs(least)):  # else it is lost in the last digits of the numbers
        digit = step / 10.0 ** math.floor(math.log10(step) + 1e-6)
        assert min(abs(digit - round_one) for round_one in (1.0, 2.0, 5.0)) < 1e-3


def test_points_stand_in_their_order_and_to_scale():
    # By hand: an axis from 0 to 4 between 196 and 34, so one gallon is 40.5 px.
    picture = run_chart([point(0.0), point(1.0), point(4.0)], None, WORDS)
    assert places(picture, "point", "cy") == [196.0, 155.5, 34.0]
    across = places(picture, "point", "cx")
    assert across[1] - across[0] == across[2] - across[1] > 0.0


def test_centre_and_limits_are_drawn_and_named_and_no_low_one_under_zero():
    picture = run_chart([point(2.0)] * 12, LINES, WORDS)
    assert [mark[2] for mark in marks(picture, "label")] == ["limit 3.05", "usual 2.05", "limit 1.05"]
    assert [mark[1]["class"] for mark in marks(picture, "centre", "limit")] == ["limit", "centre", "limit"]
    picture = run_chart([point(2.0)] * 12, LINES | {"low": -0.5}, WORDS)
    assert [mark[2] for mark in marks(picture, "label")] == ["limit 3.05", "usual 2.05"]


def test_three_points_are_no_trend():
    assert marks(run_chart([point(1.0), point(2.0), point(3.0)], None, WORDS), "series") == []
    assert len(marks(run_chart([point(2.0)] * 12, LINES, WORDS), "series")) == 1


def test_a_broken_rule_has_a_shape_of_its_own_and_says_which():
    picture = run_chart([point(2.0), *(point(2.0, None, rule) for rule in RULES)], LINES, WORDS)
    assert len(marks(picture, "point")) == 1
    shapes = [re.sub(r"^M[\d. ]+", "", mark[1]["d"]) for mark in marks(picture, *RULES)]
    assert len(shapes) == 2 * len(RULES)  # on the chart and in its key
    assert len(set(shapes)) == 3  # past either limit, and in a run, whose side is seen
    assert [mark[2] for mark in marks(picture, "key")] == list(RULES.values())
    assert marks(run_chart([point(2.0)], LINES, WORDS), "key") == []


def test_years_of_purges_show_the_latest():
    values = [2.0 + math.sin(at) for at in range(700)]
    told = signals(values, natural_limits(values[:20]))
    days = [f"day {at}" for at in range(700)]
    drawn = [point(*one) for one in zip(values, [None] * 700, told, days, strict=True)]
    picture = run_chart(drawn, natural_limits(values[:20]), WORDS)
    assert len(marks(picture, "point")) + len(marks(picture, *RULES)) == LATEST_DRAWN
    assert [mark[2] for mark in marks(picture, "day", "last")] == ["day 640", "day 699"]


def test_a_huge_doubt_leaves_the_rest_readable_and_says_that_it_goes_on():
    # By hand: twice the largest value is 6, so the axis ends there and 3 is half-way up.
    picture = run_chart([point(3.0, 90.0), point(3.0, 1.0)], None, WORDS)
    assert places(picture, "point", "cy") == [115.0, 115.0]
    huge, small = [mark[1]["d"] for mark in marks(picture, "spread")]
    assert huge.startswith("M53 196V34M") and small == "M309 142V88"


def test_dots_are_to_scale_from_zero_in_the_order_given():
    # By hand: an axis from 0 to 4 between 10 and 306: 74 px a gallon.
    picture = dots(dot_rows([(3.0, 0.5), (0.0, 0.0), (None, None), (4.0, None)]), WORDS | {"across": "gal"})
    assert places(picture, "dot", "cx") == [232.0, 10.0, 306.0]
    assert [mark[1]["d"] for mark in marks(picture, "spread")] == ["M195 77H269"]
    assert len(marks(picture, "name")) == 4
    assert places(picture, "name", "y") == sorted(places(picture, "name", "y"))


def test_a_bars_parts_are_to_scale_and_differ_in_what_fills_them():
    # By hand: 324 px for 9 gal, 36 px a gallon; the ± of 1 needs a tenth gallon, 32.4 px each.
    picture = bar(parts(4.0, 2.0, 3.0), point(9.0, 1.0) | {"label": "in all", "text": "9 gal"}, WORDS)
    edges = [re.match(r"M([\d.]+) 4H([\d.]+)V38", mark[1]["d"]) for mark in marks(picture, "part")]
    assert [edge.groups() for edge in edges if edge] == [("2", "131.6"), ("131.6", "196.4"), ("196.4", "293.6")]
    assert [mark[1]["d"] for mark in marks(picture, "whisker")] == ["M261.2 21H326"]
    assert len(marks(picture, "hatch")) == len(marks(picture, "dotted")) == 2  # in the bar and in its key
    nothing = bar(parts(0.0, 0.0, 0.0), point(0.0) | {"label": "in all", "text": "0"}, WORDS)
    assert len(marks(nothing, "empty")) == 1 and len(marks(nothing, "part")) == 3


def test_what_fills_a_part_stays_in_it():
    for width in (0.3, 1.0, 7.0, 9.0):
        picture = bar(parts(width, width, 9.0), point(30.0) | {"label": "", "text": ""}, WORDS)
        boxes = [mark for mark in marks(picture, "solids", "beer_in_solids") if " 4H" in mark[1]["d"]]
        inside = marks(picture, "hatch", "dotted")[:2]
        for box, filling in zip(boxes, inside, strict=True):
            left, right = map(float, re.match(r"M([\d.]+) 4H([\d.]+)", box[1]["d"]).groups())
            starts = re.findall(r"[ML]([\d.]+) ([\d.]+)", filling[1]["d"])
            assert all(left <= float(x) <= right and 4.0 <= float(y) <= 38.0 for x, y in starts)


def samples():
    rng = random.Random(7)
    made = [run_chart(*points_limits_words(rng)) for _ in range(4)]
    made += [dots(*rows_and_words(rng)) for _ in range(4)] + [bar(*parts_and_whole(rng)) for _ in range(4)]
    made += [strip(*run_and_words(rng)) for _ in range(4)] + [strips(*runs_a_scale_and_words(rng)) for _ in range(4)]
    said = {"title": "A & B <i>", "says": "“<script>” & more", "across": "gal"}
    return [*made, dots(dot_rows([(1.0, 0.5)], "<b>&\"'"), said)]


def test_the_text_is_an_svg_with_words_for_who_cannot_see_it():
    for place, picture in enumerate(samples()):
        root = ET.fromstring(svg_text(picture, f"p{place}"))
        assert root.get("role") == "img"
        found = [root.find(f"*[@id='{name}']").text or "" for name in root.get("aria-labelledby").split()]
        assert found == [picture["title"], picture["says"]]
        assert [[one.tag, {**one.attrib}, one.text or ""] for one in root][2:] == picture["marks"]
        assert not {"style", "fill", "stroke"} & {key for one in root for key in one.attrib}


@pytest.fixture
def page(chromium, served):
    context = chromium.new_context(service_workers="block", bypass_csp=True, viewport=SMALL_PHONE)
    page = context.new_page()
    page.goto(served.address)
    yield page
    context.close()


DRAW = """async ([address, pictures, texts]) => {
  const { take } = await import(`${address}js/tankfoot.js`);
  const { drawPicture } = await take("browser/drawing/marks.js");
  return pictures.map((picture, place) => {
    const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    drawPicture(svg, picture);
    const read = new DOMParser().parseFromString(texts[place], "text/html").querySelector("svg");
    return svg.isEqualNode(read) || [svg.outerHTML, read.outerHTML];
  });
}"""


def test_the_app_draws_what_the_report_writes(page, served):
    pictures = samples()
    texts = [svg_text(picture, f"{picture['kind']}-{place}") for place, picture in enumerate(pictures, start=1)]
    assert page.evaluate(DRAW, [served.address, pictures, texts]) == [True] * len(pictures)


MEASURE = """() => [...document.querySelectorAll(".marks")].map((svg) => {
  const { left, right, top, bottom } = svg.getBoundingClientRect();
  const boxes = [...svg.querySelectorAll("text")].map((text) => [text.textContent, text.getBoundingClientRect(), text]);
  const over = ([, a], [, b]) => a.left < b.right && b.left < a.right && a.top + 3 < b.bottom && b.top + 3 < a.bottom;
  return {
    size: Math.min(...boxes.map(([, , text]) => parseFloat(getComputedStyle(text).fontSize) * (right - left) / 328)),
    outside: boxes.filter(([, a]) => a.left < left - 8 || a.right > right + 8 || a.top < top || a.bottom > bottom)
      .map(([said]) => said),
    overlaps: boxes.flatMap((one, place) => boxes.slice(place + 1).filter((other) => over(one, other))
      .map((other) => [one[0], other[0]])),
  };
})"""


def test_every_word_has_its_room_on_a_small_phone(page):
    drawn = [point(value, 0.4, rule) for value, rule in zip((2.0, 2.5, 9.0, 0.0), RULES, strict=True)]
    whole = point(25.0, 1.5) | {"label": "in all", "text": "25.0 ± 1.5 gal"}
    rows = dot_rows([(2.0, 0.5), (0.0, 0.0), (None, None), (1000.0, 90.0)], NAME)
    pictures = [
        run_chart([*[point(2.0, 0.3)] * 60, *drawn], LINES, WORDS),
        run_chart([point(50.0)] * 12, {"centre": 50.0, "moving_range": 0.1, "low": 49.7, "high": 50.3}, WORDS),
        run_chart(drawn[:1], None, WORDS),
        dots(rows, WORDS | {"across": "Usual overrun, gal a purge"}),
        bar(parts(12.0, 8.0, 5.0), whole, WORDS),
        strip(WATCHED, WORDS | LONG),
        strips([WATCHED | {"label": f"28 Sep 2026, {NAME}", "text": "beer ran 1,000 s"}] * 3, 900.0, WORDS),
    ]
    text = "".join(svg_text(picture, f"p{place}") for place, picture in enumerate(pictures))
    page.set_content(f"<style>body {{ margin: 0 {MARGINS}px }}</style>{text}")
    page.add_style_tag(path=PACKAGE / "report" / "pictures.css")
    for told in page.evaluate(MEASURE):
        assert told["size"] >= LEAST_TEXT
        assert (told["outside"], told["overlaps"]) == ([], [])
