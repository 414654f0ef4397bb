"""The numbers on the lists: an example says so, the current tank fills them in, each leads to its sum."""

import re
from urllib.parse import parse_qs, urlsplit

import pytest
from frozen import checklist_pages
from playwright.sync_api import expect
from tankfoot.checklists import checklists

# A tank of which a hand can work the figures out: 12 psi (82 737 Pa) on it, a bore of 47.5 mm.
TANK = {
    "name": "FV 3", "diameter": 1.6, "straight_height": 2.2, "cone_angle": 1.0471975512, "head_depth": 0.0,
    "head_volume": None, "bore": 0.0475, "arm_height": None, "rated_pressure": 103421.0, "hold_pressure": 68948.0,
    "stack": None, "cap_way": None, "floor_pressure": None, "beer_volume": 4.2, "temperature": 275.15,
    "pressure": 82737.0, "purge_every": None,
}
SAVE_SETTINGS = """async ([url, changes]) => {
  (await import(url)).take("browser/storage/settings.js").saveSettings(changes);
}"""
TAKE = """async ([url, body]) => {
  (await import(url)).take("browser/storage/current_tank.js").setCurrentTank({ id: "t", body });
}"""


@pytest.fixture
def hand(phone, served):
    """Opens a list, with a current tank where one is given; returns its page."""
    page = phone.new_page()

    def open_list(name, tank=None, settings=None):
        page.goto(f"{served.address}about/")
        if tank:
            page.evaluate(TAKE, [served.script, tank])
        if settings:
            page.evaluate(SAVE_SETTINGS, [served.script, settings])
        page.goto(f"{served.address}checklists/{name}/")
        for place in page.locator("[data-numbers]").all():
            expect(place).to_have_attribute("data-ready", "true")
        return page

    return open_list


def numbers(page, sum_id):
    return page.locator(f"[data-numbers={sum_id}]")


def shown(page, sum_id, result):
    """The number that stands on the page."""
    text = numbers(page, sum_id).locator(f"[data-result={result}] [data-text]").inner_text()
    return float(re.match(r"[\d.]+", text)[0])


FROM = "() => [...document.querySelectorAll('[data-numbers]')].map((one) => one.innerText.replace(/\\s+/g, ' '))"


def test_every_list_says_without_a_tank_that_its_numbers_are_an_example(chromium, served, site):
    without = chromium.new_context(java_script_enabled=False)
    with_script = chromium.new_context(service_workers="block")
    frozen, live = without.new_page(), with_script.new_page()
    for id, address in checklist_pages(site).items():
        if id not in checklists() or not checklists()[id].numbers:
            continue
        frozen.goto(served.address + address)
        live.goto(served.address + address)
        for place in live.locator("[data-numbers]").all():
            expect(place).to_have_attribute("data-ready", "true")
            expect(place).to_have_attribute("data-example", "")
        assert all("Example, not yours: " in text for text in frozen.evaluate(FROM))
        assert frozen.evaluate(FROM) == live.evaluate(FROM), id
    without.close()
    with_script.close()


def test_the_port_list_shows_this_tanks_jet(hand):
    page = hand("before-opening-the-bottom-port", TANK)
    expect(numbers(page, "open-port")).not_to_have_attribute("data-example", "")
    line = numbers(page, "open-port").locator("[data-from]")
    expect(line).to_contain_text("FV 3, as last noted: Tank pressure 12 psi")
    # Source: beer stands in the cone (height 0.8 / tan 30° = 1.3856 m, volume 0.9287 m³) and 3.2713 m³ above it in a
    # cylinder of 2.0106 m²: 1.3856 + 1.6270 = 3.0126 m. Push on the port 82 737 + 1010 x 9.80665 x 3.0126 = 112 576 Pa;
    # the jet 2 x 0.80² x 112 576 x 0.0017721 m² = 255.4 N = 57.4 lbf; 0.80 x A x sqrt(2 p / 1010) = 21.17 L/s.
    assert shown(page, "open-port", "jet_force") == pytest.approx(57.4, rel=0.005)
    assert shown(page, "open-port", "flow") == pytest.approx(21.17 * 60 / 3.785412, rel=0.005)


def test_a_number_leads_to_its_sum_with_what_went_in(hand):
    page = hand("before-opening-the-bottom-port", TANK)
    link = numbers(page, "open-port").get_by_role("link")
    fragment = parse_qs(urlsplit(link.get_attribute("href")).fragment)
    assert fragment["pressure"] == ["12 psi"] and set(fragment) == {"pressure", "liquid_head", "bore", "temperature"}
    before = shown(page, "open-port", "jet_force")
    link.click()
    page.locator("main[data-ready]").wait_for()
    there = page.locator("[data-result=jet_force] [data-text]").inner_text()
    assert float(there.split()[0]) == pytest.approx(before, rel=0.002)


def test_the_gas_of_this_tank_in_this_room(hand):
    site = {"values": {"room_volume": "150 m³", "air_changes": "2 changes/h"}}
    page = hand("entering-a-cellar-with-co2", TANK, site)
    line = numbers(page, "room-co2").locator("[data-from]")
    expect(line).to_contain_text("From your settings: Room 150 m³ · Fresh air 2 changes/h.")
    expect(line).not_to_contain_text("Example")
    # Source: ideal gas by hand. Headspace 0.9287 + 2.2 x 2.0106 - 4.2 = 1.1521 m³, over the outside air by 82 737 Pa:
    # 1.1521 x 82 737 / 101 325 = 0.9407 m³ at 2 °C, 0.968 m³ at 10 °C; 0.645 % of the room, and 420 ppm before.
    # CO2 is no ideal gas by about 1 %.
    assert shown(page, "room-co2", "peak") == pytest.approx(6850, rel=0.02)


def test_no_margin_is_said_instead_of_a_number(hand):
    page = hand("starting-a-purge", TANK | {"pressure": 0.0})
    expect(numbers(page, "vacuum-margin").locator("[data-result=draw_to_zero] [data-text]")).to_have_text("–")
    expect(numbers(page, "vacuum-margin").locator("[data-no-result]")).to_contain_text("there is no margin")


def test_the_clamp_list_can_be_told_what_the_gauge_shows(hand):
    page = hand("before-breaking-a-clamp")
    place = numbers(page, "open-port")
    place.locator("summary").click()
    place.locator("[data-field=pressure] [data-entry]").fill("0")
    place.locator("[data-field=liquid_head] [data-entry]").fill("10")
    expect(place.locator("[data-from]")).to_contain_text("As typed: Tank pressure 0 psi · Beer above the port 10 ft.")
    # Source: by hand, 1010 x 9.80665 x 3.048 m = 30 190 Pa on 9.511 cm² (1.37 in) = 28.71 N = 6.455 lbf on a cap.
    assert shown(page, "open-port", "force_on_cap") == pytest.approx(6.455, rel=0.005)
