"""A second tap at the same spot, a quarter of a second after the first, is none: every step, every button."""

import time

import cellar
import hand
import pytest
from tankfoot.purge.machine import FIRST, LAST, LATEST, tables
from test_purge_table import shortest

SIZES = {"small": {"width": 360, "height": 640}, "tall": {"width": 390, "height": 844}}
SOON = 250  # ms between two taps of a wet glove. Common practice, no source
STEPS = {state: step for state, step in tables()[LATEST].items() if state not in (FIRST, LAST)}
RUNNING = [state for state, step in STEPS.items() if step.running]
READ = {
    "headspace": "3 bbl", "temperature": "36 °F", "rated_pressure": "15 psi", "target_pressure": "12 psi",
    "planned_draw": "5 gal", "contact_time": "1 s", "pressure_found": "8 psi", "pressure_before": "12 psi",
    "pressure_after": "10 psi",
}
# Puts the purge on another step behind the page's back and lets the page look again, as when a phone is unlocked.
PUT = """async ([url, entry]) => {
  const { take } = await import(url);
  const record = take("browser/storage/record.js");
  await record.put(record.edited(await record.get(entry.id), entry.body));
  window.pressed = null;
  document.dispatchEvent(new Event("visibilitychange"));
}"""
IS_AT = """(state) => {
  const shown = document.querySelector("[data-step]:not([hidden])");
  return shown.dataset.step === state && shown.checkVisibility();
}"""
# The buttons of the step that can be tapped, its folds open, each with what it says and the middle of it.
BUTTONS = """() => {
  const step = document.querySelector("[data-step]:not([hidden])");
  for (const fold of step.querySelectorAll("details")) fold.open = true;
  for (const field of step.querySelectorAll("[data-why], [data-cleared-by], [data-cleared-why]")) field.value = "AB";
  const all = [...step.querySelectorAll("[data-event]"), document.querySelector("[data-undo]")];
  return all.filter((one) => one.checkVisibility() && !one.disabled).map((one) => one.dataset.event ?? "undo");
}"""
# Where a button's middle stands once that is the same in two frames: a step that has just come may still be laid out.
SPOT = """async (event) => {
  const step = document.querySelector("[data-step]:not([hidden])");
  const named = step.querySelectorAll(`[data-event="${event}"]`);
  const all = event === "undo" ? [document.querySelector("[data-undo]")] : named;
  const one = [...all].find((each) => each.checkVisibility());
  const middle = () => {
    const { x, y, width, height } = one.getBoundingClientRect();
    return [x + width / 2, y + height / 2];
  };
  one.scrollIntoView({ block: "nearest" });
  if (!one.contains(document.elementFromPoint(...middle()))) one.scrollIntoView({ block: "start" });
  const drawn = () => new Promise((done) => {
    const observer = new ResizeObserver(() => { observer.disconnect(); done(); });
    observer.observe(step);
  });
  for (let before = null; String(before) !== String(middle()); await drawn()) before = middle();
  return middle();
}"""
SEEN = """async ([url, id]) => {
  const { body } = await (await import(url)).take("browser/storage/record.js").get(id);
  const place = document.querySelector("[data-not-taken]");
  const shown = document.querySelector("[data-step]:not([hidden])").dataset.step;
  return { events: body.events.map(({ event }) => event), says: place.hidden ? "" : place.textContent, shown };
}"""


# A browser gives no click to a button that is disabled (HTML Standard, "disabled"): none is taken, and none told.
IS_DEAD = "([x, y]) => document.elementFromPoint(x, y).closest(':disabled') !== null"


class Phone:
    """A page on which a purge is put on any step; its clock stands still but for the time that a test lets pass."""

    def __init__(self, context, served, size):
        self.served, self.left = served, []
        self.page = page = context.new_page()
        page.set_viewport_size(size)
        page.clock.install()
        page.goto(served.address)
        self.purge = cellar.walked(["begin"], "FV 1", readings=READ)
        tanks = [cellar.tank(name, stack=cellar.USUAL, cap_way="Bleed cap.") for name in ("FV 1", "FV 2")]
        cellar.keep(page, served, *tanks, self.purge)
        # No Content: the browser stays where it is (RFC 9110, 15.3.5)
        page.route("**/emergency/**", lambda route: (self.left.append(route.request.url), route.fulfill(status=204)))

    def open(self, anchor):
        self.page.goto(f"{self.served.address}purge/#{anchor}")
        self.page.locator("[data-purge][data-ready]").wait_for()
        self.page.clock.pause_at(cellar.moment(self.page.evaluate("() => Date.now() + 5000")))

    def put_on(self, names, readings, by=None):
        """The purge stands on the step that the events of these names lead to, long enough to be read."""
        now = cellar.moment(self.page.evaluate("() => Date.now()"))
        body = cellar.walked(names, "FV 1", now=now, readings=READ | readings)["body"]
        if by:
            body["events"][0]["data"] = {"by": by}
        if body["state"] == self.seen()["shown"] != "ready":  # by way of another step, whose screen tells that it came
            self.put_on(["begin"], readings, by)
        self.page.evaluate(PUT, [self.served.script, self.purge | {"body": body}])
        self.is_at(body["state"])
        self.page.clock.fast_forward(hand.LOOK + (hand.COUNT if STEPS[body["state"]].wait else 0))

    def is_at(self, state):
        self.page.wait_for_function(IS_AT, arg=state)

    def tap(self, spot):
        self.page.mouse.click(*spot)

    def seen(self):
        return self.page.evaluate(SEEN, [self.served.script, self.purge["id"]])

    def saw(self, events):
        """What is seen once these events are on the disk: an answer may lead back to its own question."""
        until = time.monotonic() + 30
        while (found := self.seen())["events"] != events and time.monotonic() < until:
            self.page.wait_for_timeout(20)
        return found


@pytest.fixture(params=SIZES.values(), ids=SIZES)
def at(request, phone, served):
    made = Phone(phone, served, request.param)
    made.open(f"go-on={made.purge['id']}")
    return made


def readings_for(event):
    """What has to stand on the gauge for an answer to be there at all."""
    pressures = ("pressure_found", "pressure_before", "pressure_after", "target_pressure")
    return dict.fromkeys(pressures, {"above-plate": "20 psi", "below-zero": "−1 psi"}[event])


def test_of_two_taps_at_one_spot_the_second_is_not_taken_and_that_is_said(at):
    tried, taken = set(), []
    for state, step in STEPS.items():
        names = shortest(LATEST, state)
        at.put_on(names, {})
        ahead = [(event, {}) for event in at.page.evaluate(BUTTONS)]
        ahead += [(event, readings_for(event)) for event in ("above-plate", "below-zero") if event in step.events]
        for place, (event, readings) in enumerate(ahead):
            if place or readings:
                at.put_on(names, readings)
                at.page.evaluate(BUTTONS)
            spot = at.page.evaluate(SPOT, event)
            at.tap(spot)
            leads = names[:-1] if event == "undo" else [*names, event]
            at.is_at(cellar.walked(leads)["body"]["state"])
            before = at.saw([*names, event])
            assert before["events"] == [*names, event], (state, event)
            at.page.clock.run_for(SOON)
            is_dead = at.page.evaluate(IS_DEAD, spot)
            at.tap(spot)
            at.page.clock.run_for(SOON)
            after = at.seen()
            if after | {"says": ""} != before | {"says": ""} or at.left or not (after["says"] or is_dead):
                taken.append((state, event, after, *at.left))
                at.left.clear()
            tried.add((state, event))
    assert taken == []
    known = {(state, event) for state, step in STEPS.items() for event in [*step.events, *["skip"] * bool(step.skip)]}
    # with the cap on, no clamp hangs below the one that holds it; what was wetted just now is not wetted again
    assert known - tried == {("cap-clamp", "other"), ("contact", "wet")}


# A key's second press on the same button, while what the first told is still on its way to the disk.
TWICE = """async (event) => {
  const button = document.querySelector(`[data-step]:not([hidden]) [data-event="${event}"]`);
  button.click();
  for (let turn = 0; turn < 20; turn += 1) await null; // a page's own turns: the disk answers in none of them
  button.click();
}"""


def test_a_tap_while_the_one_before_is_being_saved_is_not_taken_and_that_is_said(at):
    names = shortest(LATEST, "flowing")
    at.put_on(names, {})
    at.page.evaluate(TWICE, "colour-change")
    at.is_at("beer")
    after = at.saw([*names, "colour-change"])
    at.page.clock.run_for(SOON)
    assert at.seen() == after and after["says"]


def test_the_tap_that_begins_a_purge_begins_it_once(at):
    at.open("")
    at.page.goto(f"{at.served.address}purge/#tank={cellar.id_of('FV 2')}")
    at.page.reload()
    at.page.locator("[data-purge][data-ready]").wait_for()
    hand.type_readings(at.page)
    at.page.clock.run_for(hand.LOOK)
    spot = at.page.evaluate(SPOT, "begin")
    at.tap(spot)
    at.is_at("ready")
    at.page.clock.run_for(SOON)
    at.tap(spot)
    at.page.clock.run_for(SOON)
    assert at.seen()["shown"] == "ready" and at.seen()["says"]
    begun = [body["events"] for body in cellar.kept(at.page, at.served) if body["tank"] == cellar.id_of("FV 2")]
    assert [[event["event"] for event in events] for events in begun] == [["begin"]]


BOXES = """() => {
  const step = document.querySelector("[data-step]:not([hidden])");
  return ["[data-event=closed]", "[data-event-link]"].map((which) => {
    const { x, y, width, height } = step.querySelector(which).getBoundingClientRect();
    return [x, y, width, height];
  });
}"""


def test_closed_and_the_way_to_the_cards_keep_their_places_and_are_always_taken_there(at):
    boxes = {}
    for state in RUNNING:
        at.put_on(shortest(LATEST, state), {})
        boxes[state] = at.page.evaluate(BOXES)
        height = at.page.viewport_size["height"]
        # whole on the screen, and a glove's size: design, full-width rows of 96 px and an emergency stop of 120 px
        (_, top, _, closed), (_, _, width, cards) = boxes[state]
        assert top >= 0 and boxes[state][1][1] + cards <= height and closed >= 96 and min(width, cards) >= 120
    assert set(boxes) == {"run", "already-open", "flowing", "beer"}
    for box in boxes.values():
        assert [pytest.approx(place, abs=0.1) for place in box] == boxes["run"]
    closed, cards = [(x + width / 2, y + 4) for x, y, width, _ in boxes["run"]]
    # at the edge that is nearest to the button above it, at once after the tap that changed the screen
    for state, first in (("run", "opened"), ("run", "already-open"), ("flowing", "colour-change")):
        for spot, told in ((closed, "closed"), (cards, "trouble")):
            at.put_on(shortest(LATEST, state), {})
            at.tap(at.page.evaluate(SPOT, first))
            at.is_at({"opened": "flowing", "colour-change": "beer"}.get(first, first))
            at.tap(spot)
            at.page.wait_for_timeout(50)
            at.page.clock.run_for(SOON)
            assert at.seen()["events"][-1] == told, (state, first)
            assert bool(at.left) == (told == "trouble")
            at.left.clear()
