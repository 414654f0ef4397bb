"""The walk along the gauges on the frozen site: one tank a screen, what it says at once, what is kept, the order."""

from datetime import UTC, datetime, timedelta

import cellar
import pytest
from axe_core_python.base import AXE_SCRIPT
from browsers import PHONE
from playwright.sync_api import expect
from test_accessibility import CONTRAST, RULES, RUN_AXE
from test_offline import keep as keep_offline
from test_places import UP
from test_visit import TOO_SMALL

SMALL = {"width": 360, "height": 640}
PSI = 6894.757293168361  # Pa, NIST SP 811
JUST_NOW = 800  # ms: a tap so soon after the screen has changed is none
MOST_TAPS = 3  # a tank: the next field, the button of the keyboard, the next tank
ENTRIES = 'async (url) => (await import(url)).take("browser/storage/record.js").everything()'
PROBLEMS = """async (url) => {
  const { take } = await import(url);
  const all = await take("browser/storage/record.js").everything();
  return all.flatMap((entry) => take("office/entry_check.js").entryProblems(entry));
}"""
OVER = "[document.scrollingElement.scrollHeight, innerHeight]"


@pytest.fixture
def page(chromium, served):
    context = chromium.new_context(**PHONE | {"viewport": SMALL}, service_workers="block")
    page = context.new_page()
    page.goto(served.address)
    yield page
    context.close()


def reading(of, days, *, minutes=0, **typed):
    at = cellar.instant(datetime.now(UTC) - timedelta(days=days, minutes=minutes))
    body = {
        "tank": cellar.id_of(of), "tank_name": of, "at": at, "pressure": None, "temperature": None, "gravity": None,
        "topped_up": None, "by": None,
    }
    return cellar.entry("tank-reading", cellar.id_of(f"{of} {at}"), at, body | typed)


def steady(of, *psi, since=10):
    """Readings every second day, the last two days ago."""
    return [
        reading(of, since - 2 * place, pressure=f"{one} psi ± 0.1", temperature="36 °F")
        for place, one in enumerate(psi)
    ]


def go(page, served, place="gauges/"):
    page.goto("about:blank")
    page.goto(served.address + place)
    page.locator("main[data-ready], [data-settings]").first.wait_for()


def read(page, gauge, temperature=None):
    """Types as a hand does: each Enter is a tap on the keyboard's button. Returns the taps."""
    expect(page.locator("[data-typed=pressure]")).to_be_focused()
    page.keyboard.type(gauge)
    page.keyboard.press("Enter")
    if temperature is None:
        return 1
    page.keyboard.type(temperature)
    page.keyboard.press("Enter")
    return 2


def go_on(page):
    """Once what was typed is kept: until then the button saves."""
    expect(page.locator("[data-go]")).not_to_have_text("Save")
    page.wait_for_timeout(JUST_NOW)
    page.locator("[data-go]").tap()
    return 1


def name(page):
    return page.locator("[data-name]")


def says(page, about):
    return page.locator(f"[data-says] [data-about={about}]")


def fits(page):
    height, screen = page.evaluate(OVER)
    return height <= screen


def tank_now(page, served, name):
    (body,) = [body for body in cellar.kept(page, served, "tank") if body["name"] == name]
    return body


def test_three_tanks_take_three_taps_each_without_scrolling(page, served):
    cellar.keep(page, served, *(cellar.tank(f"FV {number}") for number in (1, 2, 3)), cellar.hold("FV 2"))
    go(page, served)
    for place, own in enumerate(("FV 1", "FV 2", "FV 3")):
        expect(name(page)).to_have_text(own)
        assert fits(page)
        taps = read(page, "9", "36")
        expect(says(page, "top-up")).to_be_visible()
        expect(page.locator("[data-read]")).to_contain_text("9 psi, 36 °F at")
        assert fits(page)
        expect(page.locator("[data-held]")).to_be_visible(visible=place == 1)  # one out of use is read like the others
        taps += go_on(page)
        assert taps <= MOST_TAPS
    expect(page.get_by_role("heading", level=1)).to_have_text("What was read")
    expect(page.locator("[data-progress]")).to_have_text("3 of 3 tanks read")


def test_the_longest_answer_fits_a_small_phone(page, served):
    tank = cellar.tank("FV 1", floor_pressure=5 * PSI)
    past = steady("FV 1", 14, 13.9, 13.8, 13.7, since=10)
    last = reading("FV 1", 2, pressure="13.6 psi ± 0.1", temperature="36 °F", topped_up="14 psi ± 0.1")
    cellar.keep(page, served, tank, cellar.tank("FV 2"), *past, last)
    go(page, served)
    read(page, "9", "36")
    for about in ("top-up", "faster", "to-floor"):
        expect(says(page, about)).to_be_visible()
    expect(page.locator("[data-typed=topped_up]")).to_be_visible()
    assert fits(page)


def test_what_was_typed_is_kept_as_typed_and_the_tank_knows_it(page, served):
    cellar.keep(page, served, cellar.tank("FV 1"), cellar.tank("FV 2"))
    cellar.remember(page, served, initials="AB")
    go(page, served)
    read(page, "0,62 bar", "2,5")
    expect(page.locator("[data-read]")).to_contain_text("0,62 bar, 2,5 °F")
    (kept,) = cellar.kept(page, served, "tank-reading")
    assert (kept["pressure"], kept["temperature"], kept["by"]) == ("0,62 bar", "2,5 °F", "AB")
    assert (kept["tank"], kept["tank_name"]) == (cellar.id_of("FV 1"), "FV 1")
    # 62 kPa; 2.5 °F is (2.5 + 459.67) / 1.8 K
    assert tank_now(page, served, "FV 1")["pressure"] == pytest.approx(62000.0)
    assert tank_now(page, served, "FV 1")["temperature"] == pytest.approx(256.761, abs=0.001)


def test_a_bare_number_gets_its_unit_also_with_a_give_or_take_in_percent(page, served):
    cellar.keep(page, served, cellar.tank("FV 1"))
    cellar.remember(page, served, system="metric", units={})
    go(page, served)
    read(page, "0.6 ± 5 %")
    expect(page.locator("[data-read]")).to_contain_text("0.6 bar")
    (kept,) = cellar.kept(page, served, "tank-reading")
    assert kept["pressure"].replace(" ", "") == "0.6bar±5%"


def test_typing_again_mends_the_reading_and_keeps_what_it_was(page, served):
    cellar.keep(page, served, cellar.tank("FV 1"))
    go(page, served)
    read(page, "21", "36")
    expect(page.locator("[data-plate-stop]")).to_be_visible()
    page.locator("[data-typed=pressure]").fill("12")
    page.keyboard.press("Enter")
    expect(page.locator("[data-plate-stop]")).to_be_hidden()
    (kept,) = [each for each in page.evaluate(ENTRIES, served.script) if each["kind"] == "tank-reading"]
    assert kept["body"]["pressure"] == "12 psi"
    assert [each["body"]["pressure"] for each in kept["history"]] == ["21 psi"]


def test_above_the_plate_is_danger_as_in_the_round(page, served):
    cellar.keep(page, served, cellar.tank("FV 1"), cellar.tank("FV 2"))  # 103 kPa on the plate
    go(page, served)
    read(page, "16")
    stop = page.locator("[data-plate-stop]")
    expect(stop).to_be_focused()
    for line in ("DANGER", "Gas off.", "Open nothing below.", "Keep people away.", "Nobody touches the relief valve."):
        expect(stop).to_contain_text(line)
    assert stop.locator("button, a, input").count() == 0
    expect(page.locator("[data-says] li")).to_have_count(0)  # no top-up is told beside it
    assert fits(page)
    (kept,) = cellar.kept(page, served, "tank-reading")
    assert kept["pressure"] == "16 psi"  # a fact is never refused
    page.locator("[data-overview]").tap()
    expect(page.locator("[data-rows] li").first).to_contain_text("DANGER: above its plate.")


def test_below_zero_leads_to_the_card(page, served):
    cellar.keep(page, served, cellar.tank("FV 1"), cellar.tank("FV 2"))
    go(page, served)
    page.locator("[data-flip=pressure]").tap()  # some keyboards of phones have no minus
    page.keyboard.type("1")
    page.keyboard.press("Enter")
    expect(page.locator("[data-zero-stop]")).to_contain_text("Below zero the tank can fold in.")
    assert fits(page)
    page.locator("[data-zero-stop] a").tap()
    expect(page).to_have_url(f"{served.address}emergency/vacuum/")


def test_what_to_top_up_is_said_with_its_share_of_a_cylinder(page, served):
    cellar.keep(page, served, cellar.tank("FV 1"), cellar.tank("FV 2", hold_pressure=None), cellar.tank("FV 3"))
    go(page, served)
    read(page, "4", "36")
    # by hand: 6 psi more over the 5.49 bbl (0.644 m3) that Tanks shows: V M dp / (Z^2 R T) = 0.644 x 0.0440095 x 41369
    # / (0.981 x 8.3145 x 275.4) = 0.522 kg, 1.15 lb. A full cylinder of 50 lb: common practice, no source.
    expect(says(page, "top-up")).to_contain_text("Top up 1.15 lb")
    expect(says(page, "top-up")).to_contain_text("2.3 % of a 50 lb cylinder")
    expect(says(page, "top-up")).to_contain_text("to 10 psi")
    go(page, served, "settings/")
    page.evaluate(UP, served.script)
    page.get_by_label("CO2 in a full cylinder").fill("10")
    page.wait_for_function("localStorage.getItem('tankfoot-settings').includes('10 lb')")
    go(page, served, f"gauges/#tank={cellar.id_of('FV 1')}")
    expect(says(page, "top-up")).to_contain_text("of a 10 lb cylinder")
    page.locator("[data-typed=topped_up]").fill("10")
    page.keyboard.press("Enter")
    expect(says(page, "gas")).to_contain_text("At its hold pressure, 10 psi")
    (kept,) = cellar.kept(page, served, "tank-reading")
    assert (kept["pressure"], kept["topped_up"]) == ("4 psi", "10 psi")
    assert tank_now(page, served, "FV 1")["pressure"] == pytest.approx(10 * PSI)
    go_on(page)
    read(page, "9")
    expect(says(page, "gas")).to_have_text("Its hold pressure is not known here: no top-up is worked out.")


def test_a_plate_that_nobody_knows_is_asked_for_before_gas_goes_in(page, served):
    cellar.keep(page, served, cellar.tank("FV 1", rated_pressure=None))
    go(page, served)
    read(page, "4", "36")
    expect(says(page, "top-up")).to_contain_text("read it before gas goes in")


@pytest.mark.parametrize(("before", "now", "about"), [
    ((14, 13.9, 13.8, 13.7, 13.6), "11.5 ± 0.1", "faster"),
    ((14, 13.9, 13.8, 13.7, 13.6), "13.5 ± 0.1", "leak"),
    ((13.8, 13.7, 13.6), "11.5 ± 0.1", "cannot-tell"),  # two earlier intervals are too few
    ((), "11.5", "cannot-tell"),
])
def test_drops_faster_than_its_own_past(before, now, about, page, served):
    cellar.keep(page, served, cellar.tank("FV 1"), *steady("FV 1", *before, since=2 * len(before)))
    go(page, served)
    read(page, now, "36")
    expect(says(page, about)).to_be_visible()
    if about == "faster":
        expect(says(page, about)).to_contain_text("Look for the leak")


def test_a_purge_in_between_is_no_leak(page, served):
    purge = cellar.walked(["begin"], "FV 1", now=datetime.now(UTC) - timedelta(days=1))
    cellar.keep(page, served, cellar.tank("FV 1"), *steady("FV 1", 14, 13.9, 13.8, 13.7, 13.6), purge)
    go(page, served)
    read(page, "8", "36")
    expect(says(page, "cannot-tell")).to_be_visible()


def test_hours_until_it_is_under_its_floor(page, served):
    cellar.keep(
        page, served, cellar.tank("FV 1", floor_pressure=5 * PSI),
        reading("FV 1", 1, pressure="12 psi ± 0.1", temperature="36 °F ± 0.2"),
        cellar.tank("FV 2", floor_pressure=5 * PSI),
    )
    go(page, served)
    read(page, "9 ± 0.1", "36 ± 0.2")
    # by hand: 3 psi in 24 h, 4 psi more take 32 h; the gas is less dense for its pressure further down: a little less
    expect(says(page, "to-floor")).to_contain_text("Under its lowest pressure, 5 psi, in 31.")
    go_on(page)
    read(page, "4.5")
    expect(says(page, "under-floor")).to_have_text("Under its lowest pressure, 5 psi.")


def test_a_tank_is_skipped_with_one_tap_and_stands_as_not_read(page, served):
    cellar.keep(page, served, cellar.tank("FV 1"), cellar.tank("FV 2"))
    go(page, served)
    expect(page.locator("[data-go]")).to_have_text("Skip this tank")
    go_on(page)
    expect(name(page)).to_have_text("FV 2")
    read(page, "10")
    go_on(page)
    expect(page.locator("[data-rows] li")).to_have_count(2)
    expect(page.locator("[data-rows] li").first).to_contain_text("not read")
    page.locator("[data-rows] button").first.tap()
    expect(name(page)).to_have_text("FV 1")


def test_a_second_tap_on_the_same_spot_skips_no_tank(page, served):
    cellar.keep(page, served, *(cellar.tank(f"FV {number}") for number in (1, 2, 3)))
    go(page, served)
    page.wait_for_timeout(JUST_NOW)
    page.locator("[data-go]").dblclick()
    expect(name(page)).to_have_text("FV 2")


def test_a_tap_on_the_button_saves_first_and_goes_on_next(page, served):
    cellar.keep(page, served, cellar.tank("FV 1"), cellar.tank("FV 2"))
    go(page, served)
    page.keyboard.type("16")
    expect(page.locator("[data-go]")).to_have_text("Save")
    page.wait_for_timeout(JUST_NOW)
    page.locator("[data-go]").tap()
    expect(page.locator("[data-plate-stop]")).to_be_visible()  # the danger is seen before the next tank comes
    expect(name(page)).to_have_text("FV 1")
    go_on(page)
    expect(name(page)).to_have_text("FV 2")


def test_what_is_no_pressure_is_said_and_not_kept(page, served):
    cellar.keep(page, served, cellar.tank("FV 1"))
    go(page, served)
    read(page, "12 miles")
    expect(page.locator("[data-problem]")).to_have_text("That is no pressure: such as 12 psi.")
    assert cellar.kept(page, served, "tank-reading") == []


def test_the_walk_goes_on_where_it_was_left(page, served):
    cellar.keep(page, served, *(cellar.tank(f"FV {number}") for number in (1, 2, 3)))
    cellar.keep(page, served, reading("FV 1", 0, minutes=30, pressure="12 psi"))
    go(page, served)
    expect(name(page)).to_have_text("FV 2")
    cellar.keep(page, served, reading("FV 2", 0, minutes=7 * 60, pressure="12 psi"))  # of this morning's walk
    go(page, served)
    expect(name(page)).to_have_text("FV 2")


def test_the_order_of_the_walk_is_set_once_and_new_tanks_come_after_by_name(page, served):
    cellar.keep(page, served, *(cellar.tank(f"FV {number}") for number in (10, 2, 1)))
    go(page, served)
    page.locator("[data-overview]").tap()
    page.get_by_role("button", name="Order of the walk").tap()
    rows = page.locator("[data-order-rows] strong")
    expect(rows).to_have_text(["FV 1", "FV 2", "FV 10"])
    page.get_by_role("button", name="FV 10: one place up").tap()
    expect(rows).to_have_text(["FV 1", "FV 10", "FV 2"])
    page.keyboard.press("Enter")  # the arrow that was used has the focus still
    expect(rows).to_have_text(["FV 10", "FV 1", "FV 2"])
    page.get_by_label("Place of FV 10").fill("3")
    page.get_by_label("Place of FV 10").blur()
    expect(rows).to_have_text(["FV 1", "FV 2", "FV 10"])
    page.get_by_role("button", name="FV 2: one place up").tap()
    expect(rows).to_have_text(["FV 2", "FV 1", "FV 10"])
    (kept,) = cellar.kept(page, served, "walking-order")
    assert kept["tanks"] == [cellar.id_of(each) for each in ("FV 2", "FV 1", "FV 10")]
    cellar.keep(page, served, cellar.tank("FV 3"), cellar.tank("Bright 1"))
    go(page, served)
    expect(name(page)).to_have_text("FV 2")
    page.locator("[data-overview]").tap()
    expect(page.locator("[data-rows] strong")).to_have_text(["FV 2", "FV 1", "FV 10", "Bright 1", "FV 3"])


def test_of_two_orders_the_newest_edit_counts(page, served):
    tanks = [cellar.tank(f"FV {number}") for number in (1, 2)]
    first, second = [tank["id"] for tank in tanks], [tank["id"] for tank in reversed(tanks)]
    early, late = "2026-03-01T08:00:00.000Z", "2026-03-02T08:00:00.000Z"
    cellar.keep(
        page, served, *tanks, cellar.entry("walking-order", cellar.id_of("a"), early, {"tanks": second}, edited=late),
        cellar.entry("walking-order", cellar.id_of("b"), early, {"tanks": first}),
    )
    go(page, served)
    expect(name(page)).to_have_text("FV 2")


def test_without_tanks_the_way_to_add_one_is_shown(page, served):
    go(page, served)
    page.get_by_role("link", name="Add a tank").tap()
    expect(page).to_have_url(f"{served.address}tanks/tank/")


def test_a_reading_survives_a_kill_just_after_it_was_confirmed_and_without_signal(own_chromium, serve, site):
    server = serve(site)
    page = own_chromium.start().new_page()
    keep_offline(page, server.address)
    cellar.keep(page, server, cellar.tank("FV 1"), cellar.tank("FV 2"))
    server.stop()
    go(page, server)
    read(page, "11,5")
    expect(page.locator("[data-read]")).to_contain_text("11,5 psi")
    own_chromium.kill()
    page = own_chromium.start().new_page()
    go(page, server)
    assert [body["pressure"] for body in cellar.kept(page, server, "tank-reading")] == ["11,5 psi"]
    assert tank_now(page, server, "FV 1")["pressure"] == pytest.approx(11.5 * PSI)
    expect(name(page)).to_have_text("FV 2")
    server.start()


def test_the_gauge_of_a_tank_is_drawn_with_a_table_behind_it(page, served):
    purge = cellar.walked(["begin"], "FV 1", now=datetime.now(UTC) - timedelta(days=5))
    topped = reading("FV 1", 1, pressure="12 psi", temperature="46 °F", topped_up="14 psi")
    cellar.keep(page, served, cellar.tank("FV 1"), *steady("FV 1", 14, 13.9, 13.8), purge, topped)
    go(page, served, f"tanks/tank/#id={cellar.id_of('FV 1')}")
    plot = page.locator("[data-gauge-plot]")
    expect(plot).to_be_visible()
    # four readings: a dot with its ± and a ring each, one arrow, one purge, which breaks the line of the rings
    for kind, count in (("circle.read", 4), ("path.spread", 4), ("circle.corrected", 4), ("path.top-up", 1),
                        ("path.purge", 1), ("path.corrected", 2)):
        assert plot.locator(f"figure {kind}").count() == count, kind
    expect(plot.locator("svg[role=img] title")).to_contain_text("4 readings")
    plot.get_by_text("As a table", exact=True).tap()
    rows = plot.locator("tbody tr")
    expect(rows).to_have_count(5)
    newest = rows.first.locator("td").all_inner_texts()
    assert newest[0] == "12.00 psi ± 0.25 psi" and newest[2] == "14.00 psi ± 0.25 psi"
    expect(plot.locator("thead")).to_contain_text("As if at 46 °F")
    expect(rows.nth(1).locator("td").first).to_have_text("Purge")
    # by hand, ideal gas: 13.8 psi at 36 °F are 28.496 psi absolute; 10 °F more of 495.7 °R are 2.017 %: 14.375 psi, and
    # as a real gas a little more
    assert float(rows.nth(2).locator("td").nth(1).inner_text().split()[0]) == pytest.approx(14.39, abs=0.02)


def test_a_tank_without_readings_has_no_picture_of_them(page, served):
    cellar.keep(page, served, cellar.tank("FV 1"))
    go(page, served, f"tanks/tank/#id={cellar.id_of('FV 1')}")
    page.locator("[data-gauge-plot][data-shown]").wait_for(state="attached")
    expect(page.locator("[data-gauge-plot]")).to_be_hidden()


def test_what_the_walk_keeps_is_what_the_record_may_hold(page, served):
    cellar.keep(page, served, cellar.tank("FV 1"))
    go(page, served)
    read(page, "9", "36")
    expect(says(page, "top-up")).to_be_visible()
    problems = page.evaluate(PROBLEMS, served.script)
    assert problems == []


def test_everybody_can_use_each_screen_of_it(page, served):
    tank = cellar.tank("FV 1", floor_pressure=5 * PSI)
    cellar.keep(page, served, tank, cellar.tank("FV 2"), *steady("FV 1", 14, 13.9, 13.8, 13.7, 13.6))
    go(page, served)
    page.evaluate(AXE_SCRIPT)
    steps = {
        "answer": lambda: read(page, "9", "36"),
        "danger": lambda: (go_on(page), read(page, "16")),
        "list": lambda: page.locator("[data-overview]").tap(),
        "order": lambda: page.locator("[data-to-order]").tap(),
    }
    for what, step in steps.items():
        step()
        page.wait_for_timeout(200)
        for light in ("dark", "light"):
            page.emulate_media(color_scheme=light)
            expect(page.locator("html")).to_have_attribute("data-theme", light)
            assert page.evaluate(RUN_AXE, [RULES, CONTRAST])["found"] == [], (what, light)
        assert page.evaluate(TOO_SMALL) == [], what
    go(page, served, f"tanks/tank/#id={tank['id']}")
    page.get_by_text("As a table", exact=True).tap()
    page.evaluate("document.querySelector('[data-numbers]').remove()")  # the form is looked at in test_accessibility.py
    page.evaluate(AXE_SCRIPT)
    assert page.evaluate(RUN_AXE, [RULES, CONTRAST])["found"] == []
