"""The guided purge for everybody: axe, forced colours, large text, names of clocks, and what is announced."""

import cellar
import hand
import pytest
from axe_core_python.base import AXE_SCRIPT
from playwright.sync_api import expect
from tankfoot.purge.machine import FIRST, LAST, LATEST, tables
from test_accessibility import CONTRAST, RULES, RUN_AXE
from test_purge_table import shortest
from test_second_taps import SIZES, Phone

STEPS = {state: step for state, step in tables()[LATEST].items() if state not in (FIRST, LAST)}
# Steps that differ in what they hold: a gate of words, two drawings, a count, a picture, stops, what runs, readings.
OF_EACH_KIND = ("ready", "cap-valve", "cap-clamp", "cap-off", "contact", "gate-count", "gate-clamp", "gate-wrong",
                "stop-plug", "stop-ready", "run", "flowing", "beer", "pressure", "result")
# A border or outline that forced colours leave, on every button and link that looks like one (CSS Color Adjustment 1:
# backgrounds and shadows go, borders and outlines stay).
WITHOUT_OUTLINE = """() => [...document.querySelectorAll(
    "main button, main .button, main .emergency-stop, header .trouble"
  )]
  .filter((one) => one.checkVisibility())
  .filter((one) => {
    const { borderTopStyle, borderTopWidth, borderBottomWidth, outlineStyle, outlineWidth } = getComputedStyle(one);
    const thinner = Math.min(parseFloat(borderTopWidth), parseFloat(borderBottomWidth));
    const border = borderTopStyle !== "none" && thinner >= 1;
    return !border && !(outlineStyle !== "none" && parseFloat(outlineWidth) >= 1);
  }).map((one) => one.outerHTML.slice(0, 90))"""
# What stands wider than the screen, and the buttons of which no scrolling shows the whole.
BEYOND = """() => {
  const root = document.documentElement;
  const shown = [...document.querySelectorAll("main [data-step]:not([hidden]) *, header *, .undo *")]
    .filter((one) => one.checkVisibility() && !one.closest("svg"));
  const wide = shown.filter((one) => {
    const { left, right, width } = one.getBoundingClientRect();
    return width && (right > root.clientWidth + 1 || left < -1);
  });
  const cut = shown.filter((one) => one.matches("button, a, h1, h2, .out p")).filter((one) => (
    one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).display !== "inline"
  ));
  return [root.scrollWidth - root.clientWidth > 0,
    ...[...wide, ...cut].map((one) => `${one.outerHTML.slice(0, 70)} ${one.scrollWidth} in ${one.clientWidth}`)]
    .filter(Boolean);
}"""
# Observers are told in the order in which they were made: this one after the page's own.
LAID_OUT = """() => new Promise((done) => {
  new ResizeObserver(done).observe(document.querySelector("[data-step]:not([hidden]) .reach"));
})"""
REACHED = """async () => {
  const step = document.querySelector("[data-step]:not([hidden])");
  const missed = [];
  const wanted = step.querySelectorAll("[data-event], [data-event-link], h2, .lines li");
  for (const one of [...wanted, document.querySelector("h1")]) {
    if (!one.checkVisibility()) continue;
    const isSeen = (block) => {
      one.scrollIntoView({ block });
      if (block === "start") scrollBy(0, one.getBoundingClientRect().top);
      const { left, top, width, height } = one.getBoundingClientRect();
      const found = document.elementFromPoint(left + width / 2, Math.max(1, top + Math.min(height / 2, 20)));
      const isWhole = !one.matches("[data-event], [data-event-link]") || (top >= 0 && top + height <= innerHeight + 1);
      return isWhole && (one.contains(found) || found?.contains(one));
    };
    if (!["nearest", "center", "start", "end"].some(isSeen)) {
      one.scrollIntoView({ block: "start" });
      const { top, left, width } = one.getBoundingClientRect();
      const over = document.elementFromPoint(left + width / 2, Math.max(1, top + 20));
      missed.push(`${one.outerHTML.slice(0, 70)} at ${top}, under ${over?.outerHTML.slice(0, 90)}`);
    }
  }
  return missed;
}"""


@pytest.fixture
def at(phone, served):
    made = Phone(phone, served, SIZES["small"])
    made.open(f"go-on={made.purge['id']}")
    return made


def test_axe_finds_nothing_on_any_kind_of_step_in_dark_and_in_light(at):
    found, passed = {}, set()
    at.page.evaluate(AXE_SCRIPT)
    for state in OF_EACH_KIND:
        at.put_on(shortest(LATEST, state), {})
        for light, tags in (("dark", RULES), ("light", [])):
            at.page.emulate_media(color_scheme=light)
            expect(at.page.locator("html")).to_have_attribute("data-theme", light)
            at.page.clock.resume()
            report = at.page.evaluate(RUN_AXE, [tags, CONTRAST])
            at.page.clock.pause_at(cellar.moment(at.page.evaluate("() => Date.now() + 5000")))
            passed |= set(report["passed"])
            if report["found"]:
                found[state, light] = report["found"]
    assert found == {}
    assert {*CONTRAST, "button-name", "label", "aria-allowed-role"} <= passed


def test_with_forced_colours_every_button_keeps_an_outline(at):
    at.page.emulate_media(forced_colors="active")
    bare = {}
    for state in STEPS:
        at.put_on(shortest(LATEST, state), {})
        if found := at.page.evaluate(WITHOUT_OUTLINE):
            bare[state] = found
    assert bare == {}


@pytest.mark.parametrize("height", [568, 844])
def test_at_320_px_with_text_twice_as_large_nothing_overflows_and_all_is_reached(height, at):
    at.page.set_viewport_size({"width": 320, "height": height})
    beyond = {}
    for state in STEPS:
        at.put_on(shortest(LATEST, state), {})
        at.page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
        at.page.evaluate(LAID_OUT)
        found = at.page.evaluate(BEYOND) + at.page.evaluate(REACHED)
        if found:
            beyond[state] = found
    assert "\n".join(f"{state}: {found}" for state, found in beyond.items()) == ""


def test_clocks_and_status_lines_have_names(at):
    for state, clock in (("contact", "countdown"), ("gate-count", "count"), ("flowing", "stopwatch")):
        at.put_on(shortest(LATEST, state), {})
        timer = hand.step(at.page).get_by_role("timer")
        expect(timer).to_have_count(1)
        assert timer.get_attribute("aria-label"), clock
        # ARIA 1.2, timer: live is off, so that it does not talk every second
        assert timer.get_attribute("aria-live") in (None, "off")
    for place in at.page.locator("[role=status], [role=alert]").all():
        assert place.evaluate("one => one.getAttribute('role')") in ("status", "alert")


def test_that_a_time_is_over_is_announced_once_by_a_status(at):
    for state, after in (("contact", 1_500), ("gate-count", 31_000)):
        names = shortest(LATEST, state)
        at.put_on(names[:-1], {})
        hand.step(at.page).locator(f"[data-event={names[-1]}]").click()
        at.is_at(state)
        status = hand.step(at.page).locator("[data-time-over]")
        assert status.get_attribute("role") in ("status", "alert")
        expect(status).to_have_text("")
        at.page.clock.run_for(after)
        expect(status).to_contain_text("over")
        at.page.evaluate("() => { window.said = 0; }")
        status.evaluate("one => new MutationObserver(() => { window.said += 1; }).observe(one, { childList: true })")
        at.page.clock.run_for(3000)
        assert at.page.evaluate("() => window.said") == 0


def test_what_was_not_taken_and_why_it_is_asked_again_are_announced(at):
    for place in ("[data-not-taken]", "[data-why-again]", "[data-plate-stop]", "[data-kept-tap]"):
        roles = at.page.locator(place).evaluate_all("(all) => all.map((one) => one.getAttribute('role'))")
        assert roles and set(roles) <= {"status", "alert"}, place


@pytest.mark.parametrize(
    "size", [{"width": 640, "height": 360}, {"width": 320, "height": 568}], ids=["on its side", "narrow"],
)
def test_closed_and_the_way_to_the_cards_are_whole_on_the_screen_however_it_is_held(size, at):
    at.page.set_viewport_size(size)
    for text in ("100%", "200%"):
        for state in (state for state, step in STEPS.items() if step.running):
            at.put_on(shortest(LATEST, state), {})
            at.page.evaluate("(size) => { document.documentElement.style.fontSize = size; }", text)
            at.page.evaluate(LAID_OUT)
            for one in ("[data-event=closed]", "[data-event-link]"):
                box = hand.step(at.page).locator(one).bounding_box()
                assert box["y"] >= -1 and box["y"] + box["height"] <= size["height"] + 1, (state, one, text, box)
                assert box["x"] >= 0 and box["x"] + box["width"] <= size["width"], (state, one, text, box)
