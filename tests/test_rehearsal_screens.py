"""The rehearsal's screens on the frozen site: the guided purge on a simulated tank, and nothing of it in the record."""

import json

import cellar
import hand
import pytest
from axe_core_python.base import AXE_SCRIPT
from playwright.sync_api import expect
from test_accessibility import CONTRAST, RULES, RUN_AXE

READINGS = hand.READINGS | {
    "choose": {"temperature": "54 °F"},
    "pressure": {"rated_pressure": "15 psi", "pressure_found": "10 psi", "target_pressure": "10 psi"},
    "gas": {"pressure_before": "10 psi"},
    "margin": {"planned_draw": "2 gal"},
    "after": {"pressure_after": "7.5 psi"},
}
TO_THE_VALVE = ("begin", "all-there", "stack-hangs", "hooked-up", "at-pressure", "gas-shut", "fits")
CRACK = 5  # notches of the slider: a tenth
SMALL = {"width": 360, "height": 640}
# What the page works in each frame, ms; the slowest tell of what else the machine does.
TIMED = """window.works = [];
const ask = window.requestAnimationFrame.bind(window);
window.requestAnimationFrame = (work) => ask((time) => {
  const from = performance.now();
  work(time);
  window.works.push(performance.now() - from);
});"""
IN_SIGHT = """(name) => {
  const box = document.querySelector(`[data-step]:not([hidden]) ${name}`).getBoundingClientRect();
  const at = [[box.left + 4, box.top + 12], [box.right - 4, box.top + 12], [box.left + 4, box.bottom - 12]];
  return at.every(([x, y]) => document.elementFromPoint(x, y)?.closest(name) !== null);
}"""


@pytest.fixture
def rehearsal(phone, served):
    def begin(scenario="plain-trub", size=SMALL):
        page = hand.hurry(phone.new_page())
        page.set_viewport_size(size)
        page.goto(f"{served.address}rehearsal/")
        page.locator("[data-rehearsals][data-ready]").wait_for()
        page.locator(f"[data-scenario={scenario}]").click()
        page.locator("[data-purge][data-ready]").wait_for()
        return page

    return begin


def walk(page, taps):
    for event in taps:
        hand.type_readings(page, READINGS)
        if hand.step(page).locator("[data-waits]:disabled").count():
            let_pass(page)
        hand.tap(page, event)


def let_pass(page):
    for place in ("[data-sim-more] summary", "[data-later]", "[data-sim-more] summary"):
        hand.wait(page, hand.LOOK)
        page.locator(place).click()


def turn(page, name):
    hand.wait(page, hand.LOOK)
    page.locator(f".sim > :not(.sim-word) [data-turn={name}]").click()


def set_flow(page, notch):
    """As a keyboard does."""
    slider = page.locator("[data-sim-flow]")
    slider.press("Home")
    for _ in range(notch):
        slider.press("ArrowRight")


def run(page, seconds):
    page.clock.run_for(seconds * 1000)


def told(page):
    return page.locator("[data-sim-told]")


def record(page, served):
    """All that the record holds."""
    everything = 'async (url) => (await import(url)).take("browser/storage/record.js").everything()'
    return page.evaluate(everything, served.script)


def end(page):
    page.locator("[data-sim-more] summary").click()
    page.locator("[data-sim-more] [data-end-now]").click()
    page.locator("[data-rehearsal-over]").wait_for()


def go_back(page, mistake):
    with page.expect_navigation():
        page.locator(f"[data-again={mistake}]").click()
    page.locator("[data-purge][data-ready]").wait_for()


def open_and_draw(page, seconds):
    walk(page, TO_THE_VALVE)
    turn(page, "isolation")
    set_flow(page, CRACK)
    run(page, 2)
    walk(page, ["opened"])
    run(page, seconds)


def shut(page):
    set_flow(page, 0)
    turn(page, "isolation")


def do_it_right(page):
    """The whole of a rehearsal, to its end."""
    open_and_draw(page, 11)
    walk(page, ["colour-change"])
    shut(page)
    walk(page, ["closed"])
    set_flow(page, 8)
    run(page, 3)
    walk(page, ["read", "seen", "shut", "let-out", "quiet", "ran-clear", "within-reach", "outer"])
    turn(page, "outer")
    run(page, 2)
    walk(page, ["apart", "rinsed"])
    hand.wait(page, hand.LOOK)
    page.locator("[data-sim-hang] [data-to=cap]").click()
    walk(page, ["capped"])
    turn(page, "gas")
    let_pass(page)
    let_pass(page)
    turn(page, "gas")
    walk(page, ["topped-up"])
    hand.look(page)
    hand.step(page).locator("[data-event=save]").click()
    run(page, 1)
    page.locator("[data-rehearsal-over]").wait_for()


def test_a_rehearsal_by_the_right_acts_is_done_and_leaves_no_purge(rehearsal, served):
    page = rehearsal()
    do_it_right(page)
    expect(page.locator("[data-teaches]")).to_contain_text("The tank-side clamp above it is never opened.")
    assert [text for text in page.locator("[data-done-all] li").all_text_contents() if not text.startswith("✓")] == []
    (entry,) = record(page, served)
    assert (entry["kind"], entry["body"]["exercise"]) == ("training", "rehearsal")
    assert [(a["stack"], a["chosen"], a["right"]) for a in entry["body"]["answers"]] == [("plain-trub", "done", True)]


def test_the_wrong_clamp_is_a_jet_with_its_card_and_a_way_back_to_before(rehearsal, served):
    page = rehearsal()
    turn(page, "tank-side")
    run(page, 1)
    expect(told(page)).to_have_attribute("data-happened", "jet")
    expect(told(page)).to_contain_text("DANGER")
    expect(told(page).locator("a")).to_have_attribute("href", "../../emergency/uncontrolled-discharge/")
    end(page)
    expect(page.locator("[data-happened-all] [data-happened=jet]")).to_contain_text("What would have stopped it")
    go_back(page, "jet")
    expect(page.locator("[data-turn=tank-side]")).to_have_attribute("data-how", "shut")
    expect(page.locator("[data-rehearsal-over]")).to_be_hidden()
    end(page)
    rows = [entry["body"]["answers"] for entry in record(page, served)]
    assert all(any(answer["chosen"] == "jet" and not answer["right"] for answer in row) for row in rows), rows


def test_beer_after_the_colour_change_is_counted_and_the_way_back_is_before_it(rehearsal):
    page = rehearsal()
    open_and_draw(page, 24)
    walk(page, ["colour-change"])
    shut(page)
    run(page, 1)
    expect(told(page)).to_have_attribute("data-happened", "closed-late")
    expect(told(page)).to_contain_text("Beer that ran after it")
    end(page)
    go_back(page, "closed-late")
    assert hand.state(page) == "flowing"
    expect(page.locator("[data-sim-glass] [data-says]")).not_to_have_text("beer")
    expect(page.locator("[data-turn=isolation]")).to_have_attribute("data-how", "open")


def test_a_reload_goes_on_where_it_was(rehearsal):
    page = rehearsal()
    walk(page, TO_THE_VALVE)
    turn(page, "isolation")
    set_flow(page, 3)
    run(page, 4)
    before = page.locator("[data-sim-gauge] [data-says]").text_content()
    page.reload()
    page.locator("[data-purge][data-ready]").wait_for()
    assert hand.state(page) == "run"
    expect(page.locator("[data-turn=isolation]")).to_have_attribute("data-how", "open")
    expect(page.locator("[data-sim-flow]")).to_have_attribute("aria-valuetext", "6 % open")
    after = page.locator("[data-sim-gauge] [data-says]").text_content()
    assert abs(float(before.split()[0]) - float(after.split()[0])) < 1.0


def test_a_page_that_stood_still_let_no_time_pass(rehearsal):
    page = rehearsal()
    walk(page, TO_THE_VALVE)
    turn(page, "isolation")
    set_flow(page, 2)
    run(page, 2)
    before = float(page.locator("[data-sim-gauge] [data-says]").text_content().split()[0])
    page.clock.fast_forward(600_000)
    run(page, 0.1)
    after = float(page.locator("[data-sim-gauge] [data-says]").text_content().split()[0])
    assert before - after < 1.0


def test_the_word_stands_on_every_screen_and_closed_is_in_sight(rehearsal):
    page = rehearsal()
    seen = []
    for event in (*TO_THE_VALVE, "opened", "colour-change", "closed"):
        expect(page.locator(".sim-word > p strong")).to_be_in_viewport()
        expect(page).to_have_title("Rehearsal · Tankfoot")
        if hand.step(page).locator("[data-event=closed]").count():
            seen.append(hand.state(page))
            for name in ("[data-event=closed]", "[data-event-link]"):
                assert page.evaluate(IN_SIGHT, name), (hand.state(page), name)
        walk(page, [event])
    assert seen == ["run", "flowing", "beer"]
    pane = page.locator("[data-sim]").bounding_box()
    assert pane["height"] <= 0.4 * SMALL["height"]


def test_the_glass_is_called_what_the_words_beside_it_say(rehearsal):
    page = rehearsal()
    open_and_draw(page, 1)
    glass, words = page.locator("[data-sim-glass] [data-says]"), set()
    for _ in range(200):
        happened, says = told(page).get_attribute("data-happened"), glass.text_content()
        words.add(says)
        assert (says in ("mostly beer", "beer")) == (happened == "colour-turned"), (happened, says)
        if happened == "colour-turned":
            break
        run(page, 0.25)
    assert words >= {"solids", "mostly beer"}, words


def test_a_handle_says_its_name_then_how_it_stands_and_the_gauge_what_its_red_mark_is(rehearsal):
    page = rehearsal()
    expect(page.locator(".sim-sights [data-turn=gas]")).to_have_text("gas: off")
    expect(page.locator("[data-sim-more] [data-turn=bleed]")).to_have_text("bleed: shut")
    expect(page.locator("[data-turn=tank-side]")).to_have_text("tank-side clamp")
    expect(page.locator("[data-turn=outer]")).to_have_text("outer clamp")
    expect(page.locator("[data-sim-gauge]")).to_contain_text("red: rated pressure")
    name = page.locator("[data-sim-gauge]").get_attribute("aria-label")
    assert "Red mark: the tank's rated pressure, 15 psi." in name, name


def test_a_keyboard_alone_turns_and_reads_all_of_it(rehearsal):
    page = rehearsal()
    page.locator(".skip").focus()
    names = {}
    for _ in range(40):
        page.keyboard.press("Tab")
        name, at = page.evaluate("""() => {
          const { activeElement: at } = document;
          const name = at.getAttribute("aria-label") ?? at.labels?.[0]?.textContent ?? at.textContent;
          return [name, at.dataset.turn ?? at.id];
        }""")
        names[at] = name
        if at == "isolation":
            page.keyboard.press("Space")
        if at == "sim-flow":
            for _ in range(CRACK):
                page.keyboard.press("ArrowRight")
            break
    assert {"gas", "tank-side", "isolation", "outer", "sim-flow"} <= set(names), names
    assert names["tank-side"] == "Tank-side clamp, between tank and isolation valve, shut"
    expect(page.locator("[data-turn=isolation]")).to_have_attribute("aria-label", "Isolation valve, open")
    expect(page.locator("[data-sim-flow]")).to_have_attribute("aria-valuetext", "10 % open")
    run(page, 6)
    expect(page.locator("[data-sim-spoken]")).to_contain_text("glass: ")
    expect(told(page)).to_contain_text("It runs")


def test_nothing_of_it_is_a_purge_anywhere(rehearsal, served):
    page = rehearsal()
    open_and_draw(page, 1)
    page.goto(served.address)
    page.locator("[data-today][data-ready]").wait_for()
    assert record(page, served) == []
    assert page.locator("a[href*='go-on']").count() == 0
    page.goto(f"{served.address}purge/")
    page.locator("[data-purge][data-ready]").wait_for()
    expect(page.locator("[data-resume]")).to_be_hidden()
    assert hand.state(page) == "choose"
    page.goto(f"{served.address}rehearsal/")
    page.locator("[data-under-way] a").click()
    page.locator("[data-purge][data-ready]").wait_for()
    assert hand.state(page) == "flowing"


def test_the_tank_in_hand_lends_its_numbers(phone, served):
    page = hand.hurry(phone.new_page())
    page.goto(served.address)
    # 1.27 m across, 60° cone: a tank as the invented brewery has them
    tank = cellar.tank("FV 7", rated_pressure=206843.0, pressure=68948.0, temperature=277.15)
    cellar.keep(page, served, tank)
    cellar.remember(page, served, tank={"id": tank["id"], "name": "FV 7", "values": {}})
    page.goto(f"{served.address}rehearsal/run/#scenario=own-tank&anew")
    page.locator("[data-purge][data-ready]").wait_for()
    expect(page.locator("[data-sim-title]")).to_have_text("Beer 39 °F")  # 4 °C
    hand.type_readings(page, READINGS)
    hand.tap(page, "begin")
    expect(page.locator("[data-of-tank]")).to_have_text("Rehearsal: FV 7")
    tanks = 'async (url) => (await import(url)).take("browser/storage/record.js").ofKind("tank")'
    stored = page.evaluate(tanks, served.script)
    assert json.loads(json.dumps(stored)) == [tank]


def test_a_rehearsal_stands_in_the_log_beside_practice(rehearsal, served):
    page = rehearsal("half-done")
    end(page)
    page.goto(f"{served.address}rehearsal/")
    expect(page.locator("[data-past] li")).to_contain_text("Somebody else's half-done purge: not done")
    page.goto(f"{served.address}record/")
    page.locator("[data-lists] summary").click()
    expect(page.locator("[data-lists] li")).to_contain_text("Rehearsal")
    expect(page.locator("[data-lists] li")).to_contain_text("not done")


@pytest.mark.alone
def test_a_frame_and_a_step_are_quick_at_a_quarter_of_the_speed(phone, served, tell):
    page = phone.new_page()
    page.set_viewport_size(SMALL)
    page.add_init_script(TIMED)
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
    page.goto(f"{served.address}rehearsal/run/#scenario=plain-trub&anew")
    page.locator("[data-purge][data-ready]").wait_for()
    turn(page, "isolation")
    set_flow(page, CRACK)
    step, frames = page.evaluate("""async (url) => {
      const { take } = await import(url);
      const { begin, step } = take("rehearsal/model.js");
      const { act } = take("rehearsal/acts.js");
      let state = begin(take("rehearsal/declared.js").scenarios["plain-trub"], "any");
      for (const row of [{ act: "isolation", to: 1 }, { act: "flow-valve", to: 0.1 }]) state = act(state, row);
      const from = performance.now();
      for (let each = 0; each < 400; each += 1) state = step(state);
      const took = (performance.now() - from) / 400;
      window.works.length = 0;
      await new Promise((over) => { setTimeout(over, 4000); });
      const works = window.works.toSorted((a, b) => a - b);
      return [took, works[Math.floor(works.length * 0.8)]];
    }""", served.script)
    tell(f"rehearsal: a step of the tank {step:.2f} ms, 80 of 100 frames within {frames:.1f} ms, four times slowed")
    assert step <= 1.0
    assert frames <= 1000.0 / 60.0


# Common practice, no source: half of a hundredth of a dial is no more than the width of its needle.
def test_a_needle_that_stands_at_zero_to_the_eye_reads_zero(rehearsal, served):
    page = rehearsal()
    read = page.evaluate("""async (url) => {
      const { take } = await import(url);
      const { readOff } = take("browser/rehearsal/sights.js");
      return [-15, 15, 700, -7000].map((pressure) => readOff(pressure, 300e3));
    }""", served.script)
    assert read == [0, 0, 0, -7000]


@pytest.mark.parametrize("light", ["dark", "light"])
def test_axe_finds_nothing_while_it_runs_at_a_jet_and_at_the_end(rehearsal, light):
    page = rehearsal()
    page.emulate_media(color_scheme=light)
    page.evaluate(AXE_SCRIPT)
    found = []
    open_and_draw(page, 2)
    found += page.evaluate(RUN_AXE, [RULES, CONTRAST])["found"]
    turn(page, "outer")
    turn(page, "tank-side")
    run(page, 1)
    page.locator("[data-sim-more] summary").click()
    found += page.evaluate(RUN_AXE, [RULES, CONTRAST])["found"]
    page.locator("[data-sim-more] summary").click()
    end(page)
    assert found + page.evaluate(RUN_AXE, [RULES, CONTRAST])["found"] == []


def test_in_an_alarm_a_hand_may_leave_and_whoever_stays_is_told(rehearsal):
    page = rehearsal("alarm")
    open_and_draw(page, 8)
    expect(told(page)).to_have_attribute("data-happened", "alarm")
    expect(told(page).locator("a")).to_have_attribute("href", "../../emergency/co2-alarm-or-person-down/")
    turn(page, "isolation")
    page.locator("[data-sim]").get_by_role("button", name="Leave the tank").click()
    run(page, 1)
    page.locator("[data-sim]").get_by_role("button", name="Back to the tank").wait_for()
    end(page)
    expect(page.locator("[data-done-all]")).to_contain_text("✓ You are away from the tank.")


def test_a_card_leads_back_to_the_rehearsal_and_an_emergency_never_into_one(rehearsal, served):
    page = rehearsal()
    turn(page, "tank-side")
    run(page, 1)
    told(page).locator("a").click()
    page.locator("[data-back-to-rehearsal] a").click()
    page.locator("[data-purge][data-ready]").wait_for()
    expect(page.locator("[data-turn=tank-side]")).to_have_attribute("data-how", "open")
    page.goto(f"{served.address}emergency/uncontrolled-discharge/")
    page.wait_for_load_state("networkidle")
    expect(page.locator("[data-back-to-rehearsal]")).to_be_hidden()
