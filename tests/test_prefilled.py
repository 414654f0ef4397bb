"""What stands in a field before anything is typed: three digits at most, buckets in litres or gallons."""

import re

import cellar
import hand
import pytest
from frozen import calculator_pages, checklist_pages
from playwright.sync_api import expect

SYSTEMS = ("us", "metric", "uk")
IN_BUCKETS = {"us": "gal", "metric": "L", "uk": "L"}
UP = """async (url) => {
  const { take } = await import(url);
  const { screens } = document.querySelector("[data-screens]").dataset;
  await Promise.all(screens.split(" ").map((name) => take(`${name}.js`)));
}"""
FILLED = """() => [...document.querySelectorAll("input[type=text]")]
  .filter((one) => one.value && !one.closest("[hidden]"))
  .map((one) => [one.closest("[data-field]")?.dataset.field ?? one.id, one.value])"""
TO_AFTER = (
    "begin", "all-there", "stack-hangs", "hooked-up", "at-pressure", "gas-shut", "fits", "opened", "colour-change",
    "closed",
)
# A tank whose numbers have no end in any unit.
AWKWARD = {
    "diameter": 1.23456789, "straight_height": 1.56789012, "cone_angle": 1.13579135, "head_depth": 0.21357913,
    "bore": 0.0476123, "arm_height": 0.41234567,
    "rated_pressure": 103456.789, "hold_pressure": 70123.456, "floor_pressure": 13579.135,
    "beer_volume": 1.51357913, "temperature": 275.3579135, "pressure": 68765.4321, "purge_every": 123456.789,
    "stack": cellar.USUAL,
}


def digits(text):
    """Significant digits of a number as it is shown."""
    number = re.sub("[^0-9.]", "", text.split("×")[0]).lstrip("0")
    return len(number.replace(".", "").lstrip("0")) if "." in text else len(number.rstrip("0"))


def test_digits_are_counted_as_on_paper():
    # by hand
    counted = {"101.325": 6, "0.0123": 3, "1200": 2, "12.50": 4, "0": 0, "−3.07": 3, "1.23×10⁹": 3}
    assert {text: digits(text) for text in counted} == counted


@pytest.fixture(params=SYSTEMS)
def at_work(request, phone, served):
    """A phone in a system of units, with an awkward tank that the work is on and an awkward site."""
    page = phone.new_page()
    page.goto(served.address)
    cellar.keep(page, served, cellar.tank("FV 1", **AWKWARD), *(lost(number) for number in range(3)))
    page.evaluate(
        """async ([url, system, id]) => {
          const { take } = await import(url);
          const values = { air_pressure: "83.4367 kPa", beer_value: "151.357 $/bbl" };
          take("browser/storage/settings.js").saveSettings({ system, values });
          take("browser/storage/current_tank.js").setCurrentTank(await take("browser/storage/record.js").get(id));
        }""",
        [served.script, request.param, cellar.id_of("FV 1")],
    )
    return page, request.param


def lost(number):
    made = cellar.unfinished("FV 1", "saved", ["begin"], f"2026-03-0{number + 1}T11:00:00.000Z")
    del made["body"]["open"]
    made["id"] = cellar.id_of(f"lost {number}")
    made["body"]["result"] = {"volume_lost": {"value": 0.000456789 * (number + 1), "uncertainty": 0.0001}}
    return made


def too_long(page, where):
    return [(where, name, text) for name, text in page.evaluate(FILLED) if digits(text) > 3]


def test_every_field_of_every_sum_list_and_tank_has_three_digits_at_most(at_work, served, site):
    page, _ = at_work
    found, seen = [], 0
    tank = f"tanks/tank/#id={cellar.id_of('FV 1')}"
    for address in [*calculator_pages(site).values(), *checklist_pages(site).values(), tank]:
        page.goto("about:blank")
        page.goto(served.address + address)
        page.evaluate(UP, served.script)
        page.wait_for_timeout(100)
        seen += len(page.evaluate(FILLED))
        found += too_long(page, address)
    assert found == []
    assert seen > 100


def test_the_sum_takes_all_of_what_a_short_number_stands_for_until_a_hand_touches_it(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}calculators/purge-volume/")
    page.locator("main[data-ready]").wait_for(state="attached")
    air = page.locator("[data-field=air_pressure]")
    expect(air.locator("[data-entry]")).to_have_value("101")
    page.locator("[data-send]").click()
    page.wait_for_timeout(200)
    address = page.evaluate("async () => location.hash || await navigator.clipboard.readText()")
    # ISO 2533: the standard atmosphere at sea level is 101.325 kPa
    assert "air_pressure=101.325+kPa" in address


def test_every_field_of_a_purge_has_three_digits_at_most_and_buckets_are_litres_or_gallons(at_work, served):
    page, system = at_work
    hand.open_purge(page, served.address, f"#tank={cellar.id_of('FV 1')}")
    typed = {
        "choose": {"temperature": "2 °C"}, "sanitise": {"contact_time": "1 s"},
        "pressure": {"pressure_found": "0.6 bar"}, "gas": {"pressure_before": "0.7 bar"},
    }
    found = []
    for event in TO_AFTER:
        found += too_long(page, hand.state(page))
        says = hand.step(page).locator("[data-shown-last-says]").all_inner_texts()
        found += [(hand.state(page), text) for text in says if text and digits(text) > 3]
        if hand.state(page) == "margin":
            planned = hand.step(page).locator("[data-field=planned_draw]")
            assert planned.locator("[data-unit]").input_value() == IN_BUCKETS[system]
            # the middle one of 0.457, 0.914 and 1.370 L, in gallons of 3.785411784 L (NIST Handbook 44) or in litres
            wanted = 0.913578 / (3.785411784 if system == "us" else 1.0)
            assert float(planned.locator("[data-entry]").input_value()) == pytest.approx(wanted, rel=5e-3)
            expect(hand.step(page).locator("[data-draw-limit] [data-text]")).to_contain_text(IN_BUCKETS[system])
        hand.type_readings(page, typed)
        hand.tap(page, event)
    assert hand.state(page) == "after"
    assert hand.step(page).locator("[data-field=collected_volume] [data-unit]").input_value() == IN_BUCKETS[system]
    assert found == []


def test_a_line_of_the_record_has_one_unit(at_work, served):
    page, system = at_work
    made = cellar.unfinished("FV 1", "saved", ["begin"], "2026-03-09T11:00:00.000Z")
    del made["body"]["open"]
    made["body"]["result"] = {
        "volume_lost": {"value": 0.03, "uncertainty": 0.001}, "overrun": {"value": 0.0004, "uncertainty": 0.0001},
    }
    cellar.keep(page, served, made)
    page.goto(f"{served.address}record/")
    line = page.locator("[data-lost]").first
    expect(line).to_contain_text("overrun")
    expect(line).to_be_visible()
    # a number, then its unit: the same each time
    assert set(re.findall(r"[0-9] ([a-zA-Z]+)", line.inner_text())) == {IN_BUCKETS[system]}
