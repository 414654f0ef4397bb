"""The guided purge on a phone's screen, as a hand walks it."""

import json

import hand
import pytest
import test_today
from hand import step
from playwright.sync_api import expect
from tankfoot.record.bodies import Purge
from test_speed import TANK


@pytest.fixture
def purge(phone, served):
    return hand.open_purge(phone.new_page(), served.address)


def entry(page, name):
    return step(page).locator(f"[data-field={name}] [data-entry]")


def tap(page, event):
    hand.look(page)
    step(page).locator(f"[data-event={event}]").click()


def keep(page, served, *entries):
    """Writes entries as the app does."""
    page.evaluate(
        'async ([url, entries]) => (await import(url)).take("browser/storage/record.js").put(...JSON.parse(entries))',
        [served.script, json.dumps(entries)],
    )


def begin(page):
    entry(page, "headspace").fill("3")
    entry(page, "temperature").fill("36")
    tap(page, "begin")
    expect(step(page)).to_have_attribute("data-step", "ready")


def test_nothing_is_scolded_before_it_is_tapped_past(purge):
    problem = step(purge).locator("[data-field=headspace] [data-problem]")
    expect(problem).to_be_empty()
    tap(purge, "begin")
    expect(problem).to_contain_text("Headspace")
    expect(step(purge)).to_have_attribute("data-step", "choose")


def test_the_sign_of_a_cold_reading_turns(purge):
    entry(purge, "temperature").fill("1")
    step(purge).locator("[data-field=temperature] [data-flip]").click()
    expect(entry(purge, "temperature")).to_have_value("−1")


def test_a_purge_is_found_again_after_a_reload(purge):
    begin(purge)
    purge.reload()
    purge.wait_for_selector("[data-purge][data-ready]")
    hand.go_on(purge)
    expect(step(purge)).to_have_attribute("data-step", "ready")


def is_there_after_a_reload(page, note):
    page.wait_for_function("""async note => {
      const { ofKind } = (await import("../js/tankfoot.js")).take("browser/storage/record.js");
      return (await ofKind("purge"))[0].body.notes === note;
    }""", arg=note)
    page.reload()
    page.wait_for_selector("[data-purge][data-ready]")
    hand.go_on(page)
    expect(step(page).get_by_label("Notes")).to_have_value(note)


def test_a_note_is_kept_before_the_purge_is_saved(purge):
    hand.walk(purge, hand.TAPS_WITHOUT_A_TANK[:-1])
    step(purge).get_by_label("Notes").fill("Thick at first.")
    step(purge).get_by_label("Notes").blur()
    expect(purge.locator("[data-kept-tap]")).not_to_be_empty()
    is_there_after_a_reload(purge, "Thick at first.")


# a phone that is locked hides the page and leaves the focus where it is (HTML Standard, "visibility state");
# one that throws the page away says so with pagehide (HTML Standard, "unload a document")
HIDE = """kind => {
  if (kind === "pagehide") return dispatchEvent(new PageTransitionEvent("pagehide"));
  Object.defineProperty(document, "hidden", { configurable: true, get: () => true });
  return document.dispatchEvent(new Event("visibilitychange"));
}"""


@pytest.mark.parametrize("kind", ["visibilitychange", "pagehide"])
def test_a_note_is_kept_when_the_phone_is_locked_in_the_middle_of_it(purge, kind):
    hand.walk(purge, hand.TAPS_WITHOUT_A_TANK[:-1])
    note = step(purge).get_by_label("Notes")
    note.press_sequentially("Thick at first.")
    purge.evaluate(HIDE, kind)
    expect(note).to_be_focused()
    is_there_after_a_reload(purge, "Thick at first.")


def test_no_note_can_be_typed_that_the_record_would_refuse(purge):
    longest = Purge().fields["notes"].keywords["maxLength"]
    assert purge.locator("[data-notes]").get_attribute("maxlength") == str(longest)


def test_from_the_emergency_cards_a_button_below_the_acts_leads_back_to_the_step(purge, served):
    purge.goto(f"{served.address}emergency/uncontrolled-discharge/")
    expect(purge.get_by_role("heading", level=1)).to_be_visible()
    expect(purge.locator("[data-back-to-purge]")).to_be_hidden()
    purge.goto(f"{served.address}purge/")
    purge.wait_for_selector("[data-purge][data-ready]")
    begin(purge)
    tap(purge, "all-there")
    expect(step(purge)).to_have_attribute("data-step", "cap-valve")
    purge.get_by_role("link", name="It went wrong").click()
    purge.set_viewport_size({"width": 360, "height": 640})
    expect(purge.get_by_role("link", name="Back to the purge")).to_be_visible()
    purge.locator(".card-tiles a").first.click()
    back = purge.get_by_role("link", name="Back to the purge")
    expect(back).to_be_in_viewport()
    first_act = purge.locator(".acts li").first.bounding_box()
    assert back.bounding_box()["y"] >= first_act["y"] + first_act["height"]
    back.click()
    purge.wait_for_selector("[data-purge][data-ready]")
    # a card was opened: the check before a clamp begins again
    expect(step(purge)).to_have_attribute("data-step", "ready")
    expect(step(purge).locator("[data-why-again]")).to_be_visible()
    tap(purge, "all-there")
    expect(step(purge)).to_have_attribute("data-step", "cap-valve")


def to_the_margin(page, pressure="10"):
    begin(page)
    for event, readings in (
        ("all-there", {}), ("stack-hangs", {}), ("hooked-up", {}),
        ("at-pressure", {"rated_pressure": "15", "pressure_found": pressure, "target_pressure": pressure}),
        ("gas-shut", {"pressure_before": pressure}),
    ):
        for name, text in readings.items():
            entry(page, name).fill(text)
        hand.tap(page, event)
    expect(step(page)).to_have_attribute("data-step", "margin")


def test_the_way_on_is_closed_while_the_planned_draw_takes_too_much(purge):
    to_the_margin(purge)
    fits = step(purge).locator("[data-event=fits]")
    # nothing is known of a tank that is none: the question stands, and is asked when it is tapped past
    expect(entry(purge, "planned_draw")).to_have_value("")
    hand.look(purge)
    fits.click()
    expect(step(purge).locator("[data-field=planned_draw] [data-problem]")).not_to_be_empty()
    # Boyle's law: 3 bbl at 10 psi hold 2.04 bbl down to zero gauge
    entry(purge, "planned_draw").fill("2.1 bbl")
    expect(fits).to_be_hidden()
    expect(step(purge).get_by_text("STOP.").locator("visible=true")).to_contain_text("Top up first")
    # ANSI Z535.6: a tank that can fold in kills if it is not avoided; the floor pressure alone has room below it
    expect(step(purge).locator("[data-vacuum-stop]:visible h2")).to_have_text("DANGER")
    entry(purge, "planned_draw").fill("0.3 bbl")
    expect(fits).to_be_visible()
    tap(purge, "fits")
    expect(step(purge)).to_have_attribute("data-step", "run")


def test_a_draw_past_the_floor_pressure_alone_is_a_warning(purge, served):
    with_a_floor = test_today.tank("FV 1", None)
    with_a_floor["body"]["floor_pressure"] = 34473.8  # 5 psi of 6894.757 Pa (NIST SP 811, appendix B)
    keep(purge, served, with_a_floor)
    purge.reload()
    purge.wait_for_selector("[data-purge][data-ready]")
    purge.get_by_label("FV 1").check()
    to_the_margin(purge)
    # Boyle's law: 3 bbl at 10 psi hold 3 x (24.7 / 19.7 - 1) = 0.76 bbl down to 5 psi and 2.04 bbl down to zero gauge
    entry(purge, "planned_draw").fill("1 bbl")
    expect(step(purge).locator("[data-event=fits]")).to_be_hidden()
    # ANSI Z535.6: WARNING could kill or injure seriously, DANGER will; the tank is not at zero gauge yet
    expect(step(purge).locator("[data-vacuum-stop]:visible h2")).to_have_text("WARNING")


def test_with_the_gas_on_no_draw_is_stopped(purge):
    to_the_margin(purge)
    entry(purge, "planned_draw").fill("2.1 bbl")
    tap(purge, "keep-gas-on")
    expect(step(purge)).to_have_attribute("data-step", "run")
    kept = purge.evaluate("""async () => {
      const { take } = await import(new URL("../js/tankfoot.js", location));
      return (await take("browser/storage/record.js").unfinishedPurges())[0].body.gas_shut;
    }""")
    assert kept is False


def test_the_planned_draw_is_what_usually_left_this_tank(purge, served):
    past = [
        test_today.purge("FV 1", f"2026-03-0{day}T12:00:00.000Z",
                         result={"volume_lost": {"value": lost, "uncertainty": None}})
        for day, lost in ((1, 0.05), (2, 0.02), (3, 0.03))
    ]
    keep(purge, served, test_today.tank("FV 1", None), *past)
    purge.reload()
    purge.wait_for_selector("[data-purge][data-ready]")
    purge.get_by_label("FV 1").check()
    to_the_margin(purge)
    # by hand: the middle one of 0.02, 0.03 and 0.05 m3 is 0.03 m3; a US gallon has 3.78541 L (NIST Handbook 44)
    assert float(entry(purge, "planned_draw").input_value()) == pytest.approx(30.0 / 3.78541, abs=5e-3)  # three digits


LINES_IN_SIGHT = """() => {
  const [here] = [...document.querySelectorAll("[data-step]")].filter((step) => step.offsetParent);
  const lines = here.querySelector(".lines")?.getBoundingClientRect().bottom ?? 0;
  return lines <= here.querySelector(".reach").getBoundingClientRect().top;
}"""
IN_REACH = """() => {
  const places = document.querySelector(".places");
  const bar = places.checkVisibility() ? places.getBoundingClientRect().top : innerHeight;
  const step = [...document.querySelectorAll("[data-step]")].find((each) => !each.hidden);
  const stop = step.querySelector(".emergency-stop");
  const buttons = step.querySelectorAll(".events [data-event], .closing [data-event], button.clamp");
  const all = [...buttons, ...(stop ? [stop] : [])];
  return all.filter((one) => one.checkVisibility()).every((one) => {
    const { top, bottom } = one.getBoundingClientRect();
    return top >= 0 && bottom <= bar;
  });
}"""
IN_SIGHT = {"buttons": IN_REACH, "lines": LINES_IN_SIGHT}
MEASURED = {
    "choose": {"headspace": "3", "temperature": "36"}, "sanitise": {"contact_time": "0.1"},
    "pressure": {"pressure_found": "8", "target_pressure": "10"}, "gas": {"pressure_before": "10"},
    "margin": {"planned_draw": "0.3"}, "after": {"pressure_after": "8"},
}


def test_on_a_small_phone_the_next_button_of_every_step_is_under_the_thumb(purge, served):
    keep(purge, served, TANK)
    purge.set_viewport_size({"width": 360, "height": 640})
    purge.goto(served.address)
    hand.open_purge(purge, served.address, f"#tank={TANK['id']}")
    out_of_reach = []
    for event in hand.TAPS:
        hand.look(purge)
        here = hand.state(purge)
        expect(step(purge).locator(f"[data-event={event}]").first).to_be_visible()
        if here != "choose":
            out_of_reach += [(here, what) for what, look in IN_SIGHT.items() if not purge.evaluate(look)]
        hand.type_readings(purge, MEASURED)
        hand.tap(purge, event)
    assert out_of_reach == []
    expect(step(purge).get_by_role("heading", name="Saved")).to_be_visible()
    # Boyle's law: 3 x (24.696 / 22.696 - 1) = 0.264 bbl of 31 gal, and one percent more for CO2 (Weiss 1974, eq. 6)
    expect(step(purge).locator(".result").first).to_contain_text("8.3 gal")
