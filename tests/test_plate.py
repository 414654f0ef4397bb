"""Above the pressure on a tank's plate no instruction goes on; what a hand says has happened is saved all the same."""

import re

import cellar
import hand
import pytest
from playwright.sync_api import expect
from tankfoot.purge.machine import LATEST, tables
from test_purge_table import shortest
from test_second_taps import SIZES

PSI = 6894.757293168  # Pa, NIST SP 811, appendix B
PLATE = "15 psi"
FINE = {
    "headspace": "3 bbl", "temperature": "36 °F", "rated_pressure": PLATE, "target_pressure": "12 psi",
    "pressure_found": "8 psi", "pressure_before": "12 psi", "pressure_after": "10 psi", "planned_draw": "0.1 bbl",
}
TYPED = {  # the two numbers of the issue, wherever they can be typed or have been
    "pressure": {"target_pressure": "25", "pressure_found": "30"}, "gas": {"pressure_before": "30"},
    "after": {"pressure_after": "30"}, "spund": {"pressure_found": "30"},
}
READ_BEFORE = {  # where they are not typed, they stand from before
    "margin": {"pressure_before": "30 psi"}, "run": {"pressure_before": "30 psi"},
    "topup": {"target_pressure": "25 psi"},
}
STEPS = {state: step for state, step in tables()[LATEST].items() if step.pressures}
ALLOWED = ("above-plate", "undo")


@pytest.fixture(params=SIZES.values(), ids=SIZES)
def page(request, phone, served):
    page = phone.new_page()
    page.set_viewport_size(request.param)
    hand.hurry(page)
    page.goto(f"{served.address}settings/")
    page.served = served
    return page


def put(page, state, readings=None, tank=None, **more):
    """Opens a purge of a tank with a plate of 15 psi at a step."""
    page.goto(f"{page.served.address}settings/")
    tank = tank or cellar.tank("FV 1", rated_pressure=15 * PSI)
    purge = cellar.walked(shortest(LATEST, state), "FV 1", readings=FINE | (readings or {}), **more)
    for entry in (tank, purge):
        cellar.keep(page, page.served, entry)
    hand.open_purge(page, page.served.address, f"#go-on={purge['id']}")
    expect(hand.step(page)).to_have_attribute("data-step", state)
    return purge


def answers(page):
    buttons = hand.step(page).locator("[data-event]:visible")
    return set(buttons.evaluate_all("(all) => all.map((one) => one.dataset.event)"))


def type_in(page, texts):
    for name, text in texts.items():
        hand.step(page).locator(f"[data-field={name}] [data-entry]").fill(text)


def latest(page, purge):
    return page.evaluate(
        'async ([url, id]) => (await (await import(url)).take("browser/storage/record.js").get(id)).body',
        [page.served.script, purge["id"]],
    )


def test_the_steps_at_which_a_pressure_counts():
    assert set(STEPS) == {*TYPED, *READ_BEFORE}


@pytest.mark.parametrize("state", STEPS)
def test_above_the_plate_there_is_danger_and_no_way_on(state, page):
    step, typed = STEPS[state], TYPED.get(state)
    purge = put(page, state, READ_BEFORE.get(state))
    danger = hand.step(page).locator("[data-plate-stop]")
    if typed:
        expect(danger).to_be_hidden()
        type_in(page, typed)
    expect(danger).to_be_visible()
    expect(danger).to_be_in_viewport()
    # ANSI Z535.6: DANGER is what kills if it is not avoided
    expect(danger.get_by_role("heading")).to_have_text("DANGER")
    to_do = ("Gas off", "Open nothing below", "Keep people away", "person in charge", "Nobody touches the relief valve")
    for what in to_do:
        expect(danger).to_contain_text(what)
    for fold in hand.step(page).locator("details").all():
        expect(fold).to_be_hidden()
    kept = {event for event in step.facts if event != "opened"}
    assert answers(page) <= {*ALLOWED, *kept, *({"opened"} & set(step.facts) if state != "run" else ())}
    assert "above-plate" in answers(page) and kept <= answers(page)
    # nor by a tap that the screen does not offer, from a keyboard's click on what is hidden
    for event in {*step.events, *["skip"] * bool(step.skip)} - {*ALLOWED, *step.facts, "below-zero"}:
        hand.step(page).locator(f"[data-event={event}]").first.evaluate("button => button.click()")
    page.wait_for_timeout(100)
    assert latest(page, purge)["state"] == state
    # the number corrected, the way is open again
    if typed:
        type_in(page, {name: FINE[name].split()[0] for name in typed})
        expect(danger).to_be_hidden()
        assert next(iter(step.events)) in answers(page)


def test_with_the_port_open_already_that_is_said_and_saved(page):
    purge = put(page, "run", READ_BEFORE["run"])
    assert "opened" not in answers(page)
    hand.tap(page, "already-open")
    expect(hand.step(page)).to_have_attribute("data-step", "already-open")
    expect(hand.step(page).get_by_role("heading")).to_have_text("Shut the flow valve, then the isolation valve")
    assert latest(page, purge)["events"][-1]["event"] == "already-open"
    hand.tap(page, "closed")
    expect(hand.step(page)).to_have_attribute("data-step", "after")
    type_in(page, {"pressure_after": "30"})
    hand.tap(page, "above-plate")
    out_of_use(page, "above-plate")


@pytest.mark.parametrize("state", ["pressure", "topup"])
def test_a_gauge_that_does_read_that_puts_the_tank_out_of_use(state, page):
    put(page, state, READ_BEFORE.get(state))
    type_in(page, TYPED.get(state, {}))
    hand.tap(page, "above-plate")
    out_of_use(page, "above-plate")
    expect(hand.step(page).get_by_text("Nobody touches the relief valve")).to_be_visible()
    # it is not purged until it is put back into use by name, with a reason
    other = page.context.new_page()
    other.served = page.served
    hand.open_purge(other, page.served.address, "#tank=" + cellar.id_of("FV 1"))
    expect(hand.step(other)).to_have_attribute("data-step", "stop-plate")
    hand.look(other)
    hand.step(other).locator("[data-event=cleared]").click()
    other.wait_for_timeout(100)
    out_of_use(other, "above-plate")
    hand.step(other).locator("[data-cleared-by]").fill("CD")
    hand.step(other).locator("[data-cleared-why]").fill("Gauge changed")
    hand.tap(other, "cleared")
    (hold,) = cellar.held(other, page.served)
    assert (hold["lifted_by"], hold["lifted_why"]) == ("CD", "Gauge changed") and hold["lifted"]


def out_of_use(page, why):
    (hold,) = cellar.held(page, page.served)
    assert (hold["tank"], hold["why"], hold["lifted"]) == (cellar.id_of("FV 1"), why, None)


@pytest.mark.parametrize("state", ["spund", "pressure", "gas", "feed"])
def test_no_gas_goes_in_before_the_plate_is_read_and_the_tank_remembers_it(state, page):
    unread = {"rated_pressure": ""}
    purge = put(page, state, unread, cellar.tank("FV 1", rated_pressure=None))
    onward = next(iter(tables()[LATEST][state].events))
    hand.look(page)
    hand.step(page).locator(f"[data-event={onward}]").click()
    field = hand.step(page).locator("[data-field=rated_pressure]")
    expect(field.locator("[data-problem]")).not_to_be_empty()
    assert latest(page, purge)["state"] == state
    field.locator("[data-entry]").fill("15")
    hand.tap(page, onward)
    (tank,) = cellar.kept(page, page.served, "tank")
    assert tank["rated_pressure"] == pytest.approx(15 * PSI)
    # asked once: the next purge of the tank is not asked
    other = cellar.walked(shortest(LATEST, "pressure"), "FV 1", readings=FINE | unread)
    cellar.keep(page, page.served, other)
    page.goto(page.served.address)
    hand.open_purge(page, page.served.address, f"#go-on={other['id']}")
    expect(hand.step(page)).to_have_attribute("data-step", "pressure")
    expect(hand.step(page).locator("[data-field=rated_pressure]")).to_be_hidden()


def test_the_words_at_a_plate_never_say_that_something_is_safe(page):
    put(page, "pressure")
    type_in(page, TYPED["pressure"])
    assert not re.search(r"\bsafe", hand.step(page).inner_text(), re.IGNORECASE)
