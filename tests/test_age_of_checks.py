"""A check grows old: half an hour away, a card opened or another hand, and the purge asks its first question again."""

import cellar
import hand
import pytest
from playwright.sync_api import expect
from tankfoot.purge.machine import FIRST, LAST, LATEST, tables
from test_purge_table import shortest
from test_second_taps import READ, SIZES, Phone

STEPS = {state: step for state, step in tables()[LATEST].items() if state not in (FIRST, LAST)}
NEVER = [state for state, step in STEPS.items() if step.again is None]
RESUMED = ("hookup", "run", "gate-clamp", "takedown", "rinse", "already-open", "flowing", "beer", "result")
YOUNG, OLD = 29 * 60, 31 * 60  # s, on both sides of the half hour. Common practice, no source
SOON = 6000  # ms, in which the page has looked again of itself
LOOK_AGAIN = 'document.dispatchEvent(new Event("visibilitychange"))'
INITIALS = """async ([url, initials]) => {
  (await import(url)).take("browser/storage/settings.js").saveSettings({ initials });
}"""


@pytest.fixture(params=SIZES.values(), ids=SIZES)
def at(request, phone, served):
    made = Phone(phone, served, request.param)
    made.open(f"go-on={made.purge['id']}")
    return made


def goes_back(at, state, to):
    """The purge that stood on a state is shown at the first question that the state rests on, and says why."""
    if STEPS[state].again:
        expect(at.page.locator(f"[data-step={to}] [data-why-again]")).to_be_visible()
        assert at.seen()["events"][-1] == "aged", state
    else:
        at.page.clock.run_for(SOON)
    assert (at.seen()["shown"], "aged" in at.seen()["events"]) == (to, bool(STEPS[state].again)), state


def left_open(at):
    at.page.clock.fast_forward(1000 * OLD)


def locked(at):
    """Timers stand still on a phone that is locked: only looking again tells."""
    at.page.clock.set_system_time(cellar.moment(at.page.evaluate("() => Date.now()") + 1000 * OLD))
    at.page.evaluate(LOOK_AGAIN)


def card_opened(at):
    link = hand.step(at.page).locator("[data-event-link]")
    with at.page.expect_request("**/emergency/**"):
        (link if link.count() else at.page.locator(".trouble")).click()
        at.page.clock.run_for(hand.LOOK)
    at.page.evaluate(LOOK_AGAIN)


def another_hand(at):
    at.page.evaluate(INITIALS, [at.served.script, "CD"])
    at.page.evaluate(LOOK_AGAIN)


@pytest.mark.parametrize("way", [left_open, locked, card_opened, another_hand])
def test_what_grows_old_is_asked_again_and_what_runs_runs_on(way, at):
    for state, step in STEPS.items():
        at.page.evaluate(INITIALS, [at.served.script, "AB"])
        at.put_on(shortest(LATEST, state), {}, by="AB")
        at.page.evaluate(LOOK_AGAIN)
        assert at.seen()["shown"] == state
        way(at)
        goes_back(at, state, step.again or state)


def test_the_states_in_which_nothing_grows_old():
    # what runs is never taken from the screen, and what has ended is no check
    assert {"already-open", "flowing", "beer", "after", "result", "topup", "finish"} <= set(NEVER)


@pytest.mark.parametrize("ago, again", [(YOUNG, False), (OLD, True)])
def test_a_purge_that_is_resumed_is_asked_again(ago, again, at):
    now = at.page.evaluate("() => Date.now()")
    for state in RESUMED:
        step = STEPS[state]
        made = cellar.walked(shortest(LATEST, state), "FV 1", now=cellar.moment(now - 1000 * ago), readings=READ)
        at.page.evaluate(
            'async ([url, entry]) => (await import(url)).take("browser/storage/record.js").put(entry)',
            [at.served.script, made],
        )
        at.page.goto(f"{at.served.address}purge/?{state}#go-on={made['id']}")
        at.page.locator("[data-purge][data-ready]").wait_for()
        expect(hand.step(at.page)).to_have_attribute("data-step", (again and step.again) or state)
        why = hand.step(at.page).locator("[data-why-again]")
        expect(why).to_be_visible(visible=bool(again and step.again))


def test_a_card_that_was_opened_from_elsewhere_makes_a_check_old_too(at):
    at.put_on(shortest(LATEST, "gate-clamp"), {})
    other = at.page.context.new_page()
    other.goto(f"{at.served.address}emergency/vacuum/")
    other.get_by_role("heading", level=1).wait_for()
    at.page.clock.run_for(hand.LOOK)
    at.page.evaluate(LOOK_AGAIN)
    goes_back(at, "gate-clamp", "gate-valve")


def test_with_the_port_open_the_clock_goes_on_whatever_was_away(at):
    at.put_on(shortest(LATEST, "flowing"), {})
    at.page.clock.fast_forward(1000 * OLD)
    at.page.evaluate(LOOK_AGAIN)
    # by hand: half an hour and more since the tap are at least 31 minutes
    minutes, _ = hand.step(at.page).locator("[data-stopwatch]").inner_text().split(":")
    assert int(minutes) >= 31
