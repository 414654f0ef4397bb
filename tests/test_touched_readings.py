"""A prefilled number is no reading: what an instrument shows counts once a hand has touched it."""

import json
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
import test_today
from playwright.sync_api import expect
from tankfoot.purge.machine import LATEST, state_after

PSI = 6894.757293168  # Pa, NIST SP 811, appendix B
SMALL, TALL = {"width": 360, "height": 640}, {"width": 390, "height": 844}
TOUCH, GAP = 56, 8  # px: WCAG 2.2, 2.5.5 asks for 44; common practice, no source, for a gloved hand
PUT = 'async ([url, entries]) => (await import(url)).take("browser/storage/record.js").put(...JSON.parse(entries))'
KEPT = """async ([url, kind]) => {
  const entries = await (await import(url)).take("browser/storage/record.js").ofKind(kind);
  return entries.map(({ body }) => body);
}"""
TO_PRESSURE = (("choose", "begin"), ("ready", "all-there"), ("cap-valve", "stack-hangs"), ("hookup", "hooked-up"))
TO_GAS = (*TO_PRESSURE, ("pressure", "at-pressure"))
TO_MARGIN = (*TO_GAS, ("gas", "gas-shut"))
GAS_SHUT = (*TO_MARGIN, ("margin", "fits"), ("run", "opened"), ("flowing", "colour-change"), ("beer", "closed"))
GAS_ON = (*TO_GAS, ("gas", "gas-on"), ("run", "opened"), ("flowing", "closed"))
KNOWN = {"headspace": "3 bbl", "temperature": "36 °F", "rated_pressure": "15 psi", "target_pressure": "12 psi"}
READ = KNOWN | {"pressure_found": "8 psi", "pressure_before": "12 psi"}


def tank(**more):
    made = test_today.tank("FV 1", None)
    known = {"rated_pressure": 15.0 * PSI, "hold_pressure": 12.0 * PSI, "pressure": 8.0 * PSI}
    made["body"] |= {"stack": None, "cap_way": None} | known | more
    return made


def finished(day, result=None, **more):
    """A purge of the tank that ended on a day of March."""
    body = {"table": LATEST, "initials": None, "result": result or {}}
    return test_today.purge("FV 1", f"2026-03-0{day}T12:00:00.000Z", **body | more)


def ago(seconds):
    return (datetime.now(UTC) - timedelta(seconds=seconds)).strftime("%Y-%m-%dT%H:%M:%S.000Z")


def under_way(steps, readings, of="FV 1", **more):
    """A purge that has come along these steps just now, one in ten seconds."""
    events = [
        {"at": ago(10 * (len(steps) - place)), "state": state, "event": event}
        for place, (state, event) in enumerate(steps)
    ]
    body = {
        "table": LATEST, "initials": None, "open": 1, "events": events, "state": state_after(events),
        "readings": readings, "gas_shut": any(event == "gas-shut" for _, event in steps) or None,
    }
    return test_today.purge(of, ago(0), 1, **body | more)


@pytest.fixture
def at(phone, served):
    """Opens the purge page on a small phone at a step of a purge, among other entries."""
    page = phone.new_page()
    page.set_viewport_size(SMALL)

    def opened(*entries, address=None):
        of_the_first = f"go-on={entries[0]['id']}" if entries[0]["kind"] == "purge" else ""
        page.goto(f"{served.address}settings/")
        page.evaluate(PUT, [served.script, json.dumps(entries)])
        page.goto(f"{served.address}purge/#" + (address or of_the_first))
        page.wait_for_selector("[data-purge][data-ready]")
        return page

    page.kept = lambda kind="purge": page.evaluate(KEPT, [served.script, kind])
    return opened


def here(page):
    return page.locator("[data-step]:visible")


def field(page, name):
    return here(page).locator(f"[data-field={name}]")


def entry(page, name):
    return field(page, name).locator("[data-entry]")


def tap(page, event):
    """A key's tap, which has no place and so is never a second tap at one spot."""
    here(page).locator(f"[data-event={event}]").evaluate("button => button.click()")


def is_at(page, state):
    expect(here(page)).to_have_attribute("data-step", state)


def readings(page):
    (body,) = [body for body in page.kept() if body.get("open")]
    return body["readings"]


def typed(name, text):
    return lambda page: entry(page, name).fill(text)


def tapped(*what):
    return lambda page: [field(page, "pressure_found").locator(each).click() for each in what]


def test_an_instrument_nobody_has_touched_is_no_reading_and_keeps_the_step(at):
    page = at(under_way(TO_PRESSURE, KNOWN), tank())
    expect(entry(page, "pressure_found")).to_have_value("")
    expect(field(page, "pressure_found")).to_contain_text("Last: 8 psi")
    tap(page, "at-pressure")
    expect(field(page, "pressure_found").locator("[data-problem]")).to_contain_text("Pressure")
    expect(entry(page, "pressure_found")).to_be_focused()
    is_at(page, "pressure")
    assert "pressure_found" not in readings(page)


# By hand: the tank showed 8 psi last, and − and + move it by half a psi.
SECOND_TAP = 800  # ms; sooner after a screen has changed, one at the same spot is no tap
SAME, LESS, MORE = "[data-same]", "[data-move='-1']", "[data-move='1']"
TOUCHES = {
    "it reads the same": (tapped(SAME), "8 psi"),
    "more": (tapped(MORE), "8.5 psi"),
    "more, then less": (tapped(MORE, LESS), "8 psi"),
    "less, twice": (lambda page: [tapped(LESS)(page), page.wait_for_timeout(SECOND_TAP), tapped(LESS)(page)], "7 psi"),
    "typed": (typed("pressure_found", "9.25"), "9.25 psi"),
    "typed, then more": (lambda page: [typed("pressure_found", "9.25")(page), tapped(MORE)(page)], "9.75 psi"),
    # 8 psi are 0.552 bar (NIST SP 811: a bar is 14.5038 psi), and a step is 0.05 bar
    "more, in another unit": (
        lambda page: [field(page, "pressure_found").locator("select").select_option("bar"), tapped(MORE)(page)],
        "0.602 bar",
    ),
}


@pytest.mark.parametrize(("touch", "reads"), TOUCHES.values(), ids=TOUCHES)
def test_each_touch_makes_a_reading(at, touch, reads):
    page = at(under_way(TO_PRESSURE, KNOWN), tank())
    touch(page)
    tap(page, "at-pressure")
    is_at(page, "gas")
    assert readings(page)["pressure_found"] == reads


def typed_and_left(page):
    entry(page, "pressure_found").fill("9")
    entry(page, "pressure_found").press("Tab")


@pytest.mark.parametrize("touch", [tapped(SAME), typed_and_left])
def test_what_was_touched_survives_a_reload_and_what_was_not_does_not(at, touch):
    page = at(under_way(TO_PRESSURE, KNOWN), tank())
    touch(page)
    expect(page.locator("[data-kept-tap]")).not_to_be_empty()
    found = entry(page, "pressure_found").input_value()
    page.reload()
    page.wait_for_selector("[data-purge][data-ready]")
    expect(entry(page, "pressure_found")).to_have_value(found)
    tap(page, "at-pressure")
    is_at(page, "gas")
    expect(entry(page, "pressure_before")).to_have_value("")


def test_the_thermometer_is_read_before_a_purge_begins(at):
    page = at(tank(temperature=275.15), address=f"tank={test_today.id_of('FV 1')}")
    expect(entry(page, "headspace")).not_to_have_value("")  # known of the tank
    expect(entry(page, "temperature")).to_have_value("")
    expect(field(page, "temperature")).to_contain_text("Last: 35.6 °F")  # 2 °C x 1.8 + 32
    tap(page, "begin")
    expect(field(page, "temperature").locator("[data-problem]")).not_to_be_empty()
    is_at(page, "choose")
    field(page, "temperature").locator(LESS).click()
    tap(page, "begin")
    is_at(page, "ready")
    assert readings(page)["temperature"] == "34.6 °F"


def test_what_is_typed_as_soon_as_a_tank_is_picked_stays(at):
    page = at(tank(), finished(1))
    page.evaluate("""() => {
      document.querySelector("[data-tanks] input").click();
      const headspace = document.querySelector("[data-step=choose] [data-field=headspace] [data-entry]");
      headspace.value = "4";
      headspace.dispatchEvent(new Event("input", { bubbles: true }));
    }""")
    page.wait_for_timeout(500)
    expect(entry(page, "headspace")).to_have_value("4")


def significant(text):
    return len(text.replace(".", "").replace("−", "").lstrip("0"))


def test_nothing_prefilled_has_more_than_three_significant_digits(at):
    odd = tank(pressure=7.98765 * PSI, hold_pressure=11.60301 * PSI, temperature=274.8765)
    lost = {"volume_lost": {"value": 0.0312345, "uncertainty": 0.001}}
    past = finished(1, lost, readings={"flow": "2.34567 gal/min"})
    typed_long = READ | {"pressure_before": "11.4321 psi"}
    steps = {
        f"tank={test_today.id_of('FV 1')}": None, "1": under_way(TO_PRESSURE, KNOWN), "2": under_way(TO_MARGIN, READ),
        "3": under_way(GAS_SHUT, typed_long),
    }
    found = {}
    for address, purge in steps.items():
        page = at(*([purge] if purge else []), odd, past, address=None if purge else address)
        shown = here(page).locator("[data-entry]:visible").evaluate_all("all => all.map((one) => one.value)")
        last = here(page).locator("[data-shown-last]:visible [data-shown-last-says]").all_text_contents()
        found[address] = [text for text in shown if text] + [text.split()[1] for text in last]
    assert [text for all_of_it in found.values() for text in all_of_it if significant(text) > 3] == []
    # By hand: a gallon has 3.785412 L (NIST Handbook 44), so that 31.2345 L are 8.2513 gal; 274.8765 K are 35.108 °F.
    assert "35.1" in found[next(iter(steps))]
    assert found["1"] == ["12", "7.99"]
    assert found["2"] == ["8.25"]
    assert found["3"] == ["11.4", "2.35"]


def test_what_is_known_of_the_tank_or_wanted_needs_no_touch(at):
    page = at(under_way(TO_PRESSURE, KNOWN), tank())
    expect(entry(page, "target_pressure")).to_have_value("12")
    field(page, "pressure_found").locator(SAME).click()
    tap(page, "at-pressure")
    is_at(page, "gas")
    expect(field(page, "pressure_before")).to_contain_text("Wanted: 12 psi")


def test_the_contact_time_needs_no_touch(at):
    cap_off = (("cap-valve", "across"), ("cap-clamp", "outer"), ("cap-off", "cap-off"))
    page = at(under_way((*TO_PRESSURE[:2], *cap_off), KNOWN))
    tap(page, "wet")
    is_at(page, "contact")


def test_a_step_that_is_come_to_again_reads_its_gauge_again(at):
    page = at(under_way(TO_MARGIN, READ, gas_shut=True), tank())
    tap(page, "more-gas")
    is_at(page, "pressure")
    expect(entry(page, "pressure_found")).to_have_value("")
    expect(field(page, "pressure_found")).to_contain_text("Last: 12 psi")
    assert "pressure_found" not in readings(page)


def test_a_tap_that_is_taken_back_leaves_what_was_read(at):
    page = at(under_way(TO_MARGIN, READ), tank())
    page.locator("[data-undo]").evaluate("button => button.click()")
    is_at(page, "gas")
    expect(entry(page, "pressure_before")).to_have_value("12")


def test_the_rated_pressure_is_asked_only_where_it_is_not_known_and_no_gas_goes_in_without_it(at):
    unknown = {name: text for name, text in KNOWN.items() if name != "rated_pressure"}
    page = at(under_way(TO_PRESSURE, unknown), tank())
    expect(field(page, "rated_pressure")).to_be_hidden()
    page = at(under_way(TO_PRESSURE, unknown), tank(rated_pressure=None))
    field(page, "pressure_found").locator(SAME).click()
    tap(page, "at-pressure")
    expect(entry(page, "rated_pressure")).to_be_focused()
    expect(field(page, "rated_pressure").locator("[data-problem]")).not_to_be_empty()
    is_at(page, "pressure")
    entry(page, "rated_pressure").fill("150")  # a slip, mended before the step is left
    entry(page, "rated_pressure").press("Tab")
    entry(page, "rated_pressure").fill("15")
    tap(page, "at-pressure")
    is_at(page, "gas")
    expect(field(page, "rated_pressure")).to_be_hidden()
    assert [body["rated_pressure"] for body in page.kept("tank")] == pytest.approx([15.0 * PSI])


def test_a_purge_without_a_tank_is_asked_for_the_rated_pressure(at):
    unknown = {name: text for name, text in READ.items() if name != "rated_pressure"}
    page = at(under_way(TO_GAS, unknown, tank=None))
    entry(page, "pressure_before").fill("10")
    for event in ("gas-on", "gas-shut"):
        tap(page, event)
        expect(entry(page, "rated_pressure")).to_be_focused()
        is_at(page, "gas")
    entry(page, "rated_pressure").fill("15")
    tap(page, "gas-shut")
    is_at(page, "margin")


@pytest.mark.parametrize(("steps", "is_asked"), [(GAS_SHUT, True), (GAS_ON, False)], ids=["gas shut", "gas on"])
def test_the_pressure_after_is_asked_only_where_the_gas_was_shut(at, steps, is_asked):
    page = at(under_way(steps, READ), tank())
    expect(field(page, "pressure_after")).to_be_visible(visible=is_asked)
    tap(page, "read")
    is_at(page, "result")
    assert "pressure_after" not in {name for name, text in readings(page).items() if text}


@pytest.mark.parametrize(("reads", "stop"), [("45", "plate"), ("16", "plate"), ("−1", "zero")])
def test_a_pressure_past_what_a_sum_takes_is_dangerous_all_the_same(at, reads, stop):
    page = at(under_way(TO_PRESSURE, KNOWN), tank())
    entry(page, "pressure_found").fill(reads)
    expect(here(page).locator(f"[data-{stop}-stop]")).to_be_visible()
    expect(here(page).locator("[data-event=at-pressure]")).to_be_hidden()


# Boyle's law and JCGM 100:2008, 5.1.2: from 12 to 11.9 psi (26.6 absolute) 3 bbl x 0.1 / 26.6 = 0.011 bbl leave, and
# the ± 0.5 psi that the gauge's fields take where none is typed make 3 x sqrt(2) x 0.5 / 26.6 = ± 0.08 bbl of it. From
# 12 to 8 psi (22.7 absolute) it is 3 x 4 / 22.7 = 0.53 bbl ± 0.1 bbl: 62 L, half of them after the colour change, 31 L,
# where 50 L are usual.
USUAL = {"overrun": {"value": 0.05, "uncertainty": 0.001}, "volume_lost": {"value": 0.06, "uncertainty": 0.001}}


@pytest.mark.parametrize(("after", "tells"), [("11.9", False), ("8", True)])
def test_a_result_that_cannot_tell_says_so_and_is_not_called_saved(at, after, tells):
    past = finished(1, USUAL)
    page = at(under_way(GAS_SHUT, READ), tank(), past)
    entry(page, "pressure_after").fill(after)
    tap(page, "read")
    is_at(page, "result")
    expect(here(page).locator(".result").first).to_be_visible()
    expect(here(page).locator(".result").first.get_by_text("This reading cannot tell")).to_have_count(0 if tells else 1)
    expect(here(page).get_by_text("Saved against the usual")).to_have_count(1 if tells else 0)


def test_the_plan_is_not_what_a_reading_that_cannot_tell_said(at):
    amounts = [(0.010, 0.020), (0.030, 0.001), (0.011, 0.030)]
    past = [
        finished(day, {"volume_lost": {"value": value, "uncertainty": doubt}})
        for day, (value, doubt) in enumerate(amounts, 1)
    ]
    page = at(under_way(TO_MARGIN, READ), tank(), *past)
    # by hand: only 30 L tell, in US gallons of 3.78541 L (NIST Handbook 44)
    assert float(entry(page, "planned_draw").input_value()) == pytest.approx(30.0 / 3.78541, abs=5e-3)


# As in test_purge_margin: Boyle's law and JCGM 100:2008, 5.1.2, for 3 ± 0 bbl at 10 ± 0 psi and 36 ± 0 °F
@pytest.mark.parametrize(
    ("floor", "barrels", "says"),
    [("8 ± 0 psi", 0.264, "Then the tank is at its lowest pressure"), ("", 1.47, "can bring the tank to zero")],
)
def test_the_margin_shows_the_limit_that_is_enforced(at, floor, barrels, says):
    exact = KNOWN | {"headspace": "3 ± 0 bbl", "pressure_before": "10 ± 0 psi", "temperature": "36 ± 0 °F"}
    page = at(under_way(TO_MARGIN, exact | {"floor_pressure": floor}), tank())
    place = here(page).locator("[data-draw-limit]")
    expect(place).to_contain_text(says)
    shown, unit = place.locator("[data-text]").inner_text().split()
    # a barrel of beer is 31 gallons (NIST Handbook 44)
    assert (float(shown), unit) == (pytest.approx(31.0 * barrels, rel=0.025), "gal")
    fits = here(page).locator("[data-event=fits]")
    entry(page, "planned_draw").fill(str(Decimal(shown) + Decimal(1).scaleb(Decimal(shown).adjusted() - 2)))
    expect(fits).to_be_hidden()
    expect(here(page).locator("[data-vacuum-stop]:visible")).to_have_count(1)
    entry(page, "planned_draw").fill(shown)
    expect(fits).to_be_visible()
    tap(page, "fits")
    is_at(page, "run")


BOXES = """() => [...document.querySelectorAll("[data-shown-last] button")].filter((one) => one.checkVisibility())
  .map((one) => { const { x, y, width, height } = one.getBoundingClientRect(); return { x, y, width, height }; })"""


@pytest.mark.parametrize("size", [SMALL, TALL], ids=["360", "390"])
@pytest.mark.parametrize(
    ("steps", "name"),
    [(TO_PRESSURE, "pressure_found"), (TO_GAS, "pressure_before"), (GAS_SHUT, "pressure_after")],
)
def test_the_ways_to_touch_are_large_and_nothing_covers_them(at, steps, name, size):
    page = at(under_way(steps, READ), tank())
    page.set_viewport_size(size)
    entry(page, name).focus()
    boxes = page.evaluate(BOXES)
    assert boxes
    assert all(box["width"] >= TOUCH and box["height"] >= TOUCH for box in boxes)
    less, same, more = boxes[:3]
    assert same["x"] - less["x"] - less["width"] >= GAP
    assert more["x"] - same["x"] - same["width"] >= GAP
    for what in (LESS, SAME, MORE):
        field(page, name).locator(what).click(trial=True, timeout=2000)


def test_less_and_more_are_named_by_what_is_read(at):
    page = at(under_way(TO_PRESSURE, KNOWN), tank())
    for name in ("Pressure now: less", "Pressure now: more"):
        expect(page.get_by_role("button", name=name)).to_be_visible()
