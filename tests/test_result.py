"""What a purge told, in one picture: a bar to scale, ±, what is usual; and what it leaves behind in the tank."""

from datetime import UTC, datetime, timedelta

import cellar
import hand
import pytest
from playwright.sync_api import expect
from tankfoot.purge.outcome import parts_of

GALLON = 0.003785411784  # m3. Source: NIST Handbook 44, appendix C: 231 in3
TO_RESULT = (
    "begin", "all-there", "stack-hangs", "hooked-up", "at-pressure", "gas-on", "opened", "colour-change",
    "closed", "read",
)
TO_SAVED = (
    "seen", "shut", "let-out", "quiet", "ran-clear", "within-reach", "outer", "apart", "rinsed", "capped", "topped-up",
    "save",
)
WIDTHS = "(all) => all.map((one) => [one.getAttribute('class'), Number(one.getAttribute('width'))])"
FILLS = "(all) => all.map((one) => one.getAttribute('fill'))"
ENDS = "(one) => { const { x, width } = one.getBBox(); return [x, x + width]; }"
IN_THREE_DAYS = """() => new Date(Date.now() + 3 * 86400e3)
  .toLocaleDateString("en-US", { weekday: "long", day: "numeric", month: "long" })"""
SMALL = {"width": 360, "height": 640}
HALF_HIDDEN = """() => {
  const reach = document.querySelector("[data-step=result] .reach").getBoundingClientRect();
  const here = document.querySelector("[data-step=result]");
  const all = here.querySelectorAll(":is(.headline .result, .losses, .losses-picture tr, figcaption)");
  return [...all].filter((one) => one.getBoundingClientRect().bottom > reach.top || one.getBoundingClientRect().top < 0)
    .map((one) => one.outerHTML.slice(0, 60)).concat(all.length < 8 ? [`only ${all.length}`] : []);
}"""


def gallons(**amounts):
    """Results by the number of gallons and of its ±; money is dollars."""
    factors = {name: 1.0 if name.startswith("money") else GALLON for name in amounts}
    return {name: {"value": value * factors[name], "uncertainty": spread * factors[name]}
            for name, (value, spread) in amounts.items()}


# By hand, twelve gallons in a minute, the last quarter of it after the colour change, half of the rest beer: 3 gal of
# overrun, 4.5 gal each of solids and beer in them; 10 $/gal for 7.5 gal of beer.
TOLD = gallons(volume_lost=(12, 1), solids=(4.5, 0.6), beer_in_solids=(4.5, 0.6), overrun=(3, 0.4))
WORTH = gallons(money_lost=(75, 6))
PAST = [(5, 5, 2, 12), (6, 6, 4, 16), (4, 4, 9, 17)]  # solids, beer in them, overrun, all: medians by hand 5, 5, 4, 16


def past(number, row):
    names = ("solids", "beer_in_solids", "overrun", "volume_lost")
    at = cellar.instant(datetime.now(UTC) - timedelta(days=3 + number))
    made = cellar.unfinished("FV 1", "saved", ["begin"], at)
    del made["body"]["open"]
    made["id"] = cellar.id_of(f"past {number}")
    made["body"]["result"] = gallons(**{name: (value, 0.1) for name, value in zip(names, row, strict=True)})
    return made


@pytest.fixture
def at_result(phone, served):
    """Opens the purge of FV 1 that stands at its result; what is typed and told are given."""
    page = phone.new_page()
    page.set_viewport_size(SMALL)
    page.goto(served.address)

    def open_it(result, readings=None, before=(), tank=None):
        made = cellar.walked(TO_RESULT, "FV 1", result=result, readings=readings or {})
        cellar.keep(page, served, tank or cellar.tank("FV 1"), made, *before)
        hand.open_purge(page, served.address, f"#go-on={made['id']}")
        expect(page.locator("[data-step=result] .losses:not([data-key])")).to_be_visible()
        return page

    return open_it


def widths(page, y):
    """The widths of a bar's parts in their order, by the height it stands at in the drawing."""
    rects = page.locator(f"[data-step=result] .losses:not([data-key]) > rect[y='{y}']")
    return rects.evaluate_all(WIDTHS)


def rows(page):
    lines = page.locator("[data-step=result] .losses-picture tbody tr")
    return {line.get_attribute("data-part"): line.locator("td").all_inner_texts() for line in lines.all()}


def test_the_bar_is_to_scale_with_the_usual_below_it(at_result):
    page = at_result(TOLD, before=[past(number, row) for number, row in enumerate(PAST)])
    now, usual = widths(page, 4), widths(page, 37)
    assert [part for part, _ in now] == [part for part, _ in usual] == ["solids", "beer_in_solids", "overrun"]
    scale = now[0][1] / 4.5
    # by hand, above
    assert [width / scale for _, width in now] == pytest.approx([4.5, 4.5, 3.0], rel=1e-3)
    assert [width / scale for _, width in usual] == pytest.approx([5.0, 5.0, 4.0], rel=1e-3)
    assert rows(page) == {
        "solids": ["4.50 ± 0.60", "5"], "beer_in_solids": ["4.50 ± 0.60", "5"], "overrun": ["3.00 ± 0.40", "4"],
        "whole": ["12.0 ± 1.0", "16"],
    }
    expect(page.get_by_text("the middle of 3 purges")).to_be_visible()
    # ± one gallon at the end of twelve: from eleven to thirteen
    start, end = page.locator("[data-step=result] .whisker").evaluate(ENDS)
    assert (start / scale, end / scale) == pytest.approx((11.0, 13.0), rel=1e-3)


def test_the_parts_differ_by_what_fills_them_and_a_table_and_words_tell_them(at_result):
    page = at_result(TOLD)
    bar = page.locator("[data-step=result] .losses:not([data-key])")
    fills = bar.locator("> rect").evaluate_all(FILLS)
    assert len(set(fills)) == 3
    assert all(fill is None or bar.locator(f"[id='{fill[5:-1]}']").count() == 1 for fill in fills)
    keys = page.locator("[data-step=result] .losses-picture [data-key] rect").evaluate_all(FILLS)
    assert keys == fills
    assert bar.locator("desc").text_content() == (
        "Solids 4.50 ± 0.60 gal, Beer, assumed 4.50 ± 0.60 gal, Overrun 3.00 ± 0.40 gal, All that left 12.0 ± 1.0 gal."
    )


@pytest.mark.parametrize("is_worth", [False, True])
def test_all_of_it_is_on_one_small_screen_and_money_comes_first(is_worth, at_result):
    page = at_result(TOLD | (WORTH if is_worth else {}), before=[past(number, row) for number, row in enumerate(PAST)])
    assert page.evaluate(HALF_HIDDEN) == []
    first = page.locator("[data-step=result] .headline .result").first
    expect(first).to_contain_text("$75.0" if is_worth else "12.0 gal")
    assert page.evaluate("document.documentElement.scrollWidth") <= SMALL["width"]


def test_the_beer_in_the_solids_is_assumed_until_a_settled_sample_is_entered(at_result):
    readings = {"collected_volume": "12 ± 1 gal", "headspace": "3 bbl", "temperature": "36 °F"}
    page = at_result(TOLD, readings)
    expect(page.get_by_text("Assumed half beer until a sample settles.")).to_be_visible()
    share = hand.step(page).locator("[data-field=beer_share] [data-entry]")
    share.fill("20")
    share.blur()
    expect(page.get_by_text("Assumed half beer until a sample settles.")).to_have_count(0)
    expect(page.locator("[data-part=beer_in_solids] th")).to_have_text("Beer in them")


def test_what_is_not_told_apart_is_one_bar_without_parts(at_result):
    page = at_result({"volume_lost": TOLD["volume_lost"]})
    assert [part for part, _ in widths(page, 4)] == ["whole"]
    assert list(rows(page)) == ["whole"]


def test_the_purge_in_the_record_shows_the_same_picture_and_prints_it(phone, served):
    page = phone.new_page()
    page.goto(served.address)
    made = past(0, PAST[0])
    cellar.keep(page, served, cellar.tank("FV 1"), made, past(1, PAST[1]))
    page.set_viewport_size(SMALL)
    page.goto(f"{served.address}record/entry/#id={made['id']}")
    expect(page.locator("[data-record-entry][data-ready]")).to_be_attached()
    bar = page.locator("[data-picture] .losses:not([data-key])")
    expect(bar).to_be_in_viewport()
    # by hand, above: of the one other purge
    expect(page.locator("[data-part=whole] td").last).to_have_text("16")
    box = page.locator(".losses-picture").bounding_box()
    assert box["y"] + box["height"] < page.locator(".places").bounding_box()["y"]
    page.emulate_media(media="print")
    expect(bar).to_be_visible()
    expect(page.locator("[data-part=overrun]")).to_be_visible()
    assert page.locator(".losses .hatch").first.evaluate("(one) => getComputedStyle(one).stroke") == "rgb(0, 0, 0)"


def test_the_rule_of_what_is_assumed():
    told = {"readings": {"beer_share": "50 %"}, "result": TOLD}
    assert [part["assumed"] for part in parts_of(told)] == [False, False, False]
    assert [part["assumed"] for part in parts_of(told | {"readings": {}})] == [True, True, False]
    assert [part["part"] for part in parts_of(told)] == ["solids", "beer_in_solids", "overrun"]


def finish(page):
    for event in TO_SAVED:
        hand.tap(page, event)


def test_the_last_step_says_what_the_tank_holds_now_and_when_it_is_due_again(at_result):
    readings = {
        "collected_volume": "12 ± 1 gal", "headspace": "3 bbl", "temperature": "36 °F", "target_pressure": "12 psi",
        "rated_pressure": "15 psi",
    }
    tank = cellar.tank("FV 1", stack=cellar.USUAL, purge_every=3 * 86400.0, beer_volume=400 * GALLON)
    page = at_result(TOLD, readings, tank=tank)
    finish(page)
    said = hand.step(page).locator("[data-tank-now]")
    # by hand: 400 gal less 12, in barrels of 31 gal, 12.5; topped up to 12 psi
    expect(said.locator("[data-holds]")).to_contain_text("FV 1 now holds 12.5 bbl of beer")
    expect(said.locator("[data-holds]")).to_contain_text("Gauge: 12 psi.")
    day = page.evaluate(IN_THREE_DAYS)
    expect(said.locator("[data-due-again]")).to_contain_text(f"Due again on {day}")
    expect(said.locator("[data-due-again]")).to_contain_text("due in 3 days.")
