"""The browser killed again and again in the middle of a tap: what the screen had confirmed is there afterwards."""

import json
import random
import threading
import time

import cellar
import hand
import pytest
from frozen import checklist_pages
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import expect
from tankfoot.purge.machine import sums
from test_record import READ
from test_whole_purge import REMEMBERED

LONGEST_LIFE = 1.0  # seconds of tapping before the kill
ON_A_LIST = 0.25  # of all lives
NUMBERS = 400  # more taps than a life has room for
# One tap a number, as fast as the screen takes them; each is told in the console once the screen has shown it.
TAP = """async ([numbers, readings]) => {
  const shown = () => document.querySelector("[data-step]:not([hidden])");
  for (const number of numbers) {
    const step = shown();
    const here = step.dataset.step;
    if (here === "saved") return;
    const typed = Object.entries(readings[here] ?? {});
    for (const [name, text] of typed) {
      const entry = step.querySelector(`[data-field=${name}] [data-entry]`);
      entry.value = text;
      for (const type of ["input", "change"]) entry.dispatchEvent(new Event(type, { bubbles: true }));
    }
    for (const why of step.querySelectorAll("[data-why], [data-cleared-by], [data-cleared-why]")) why.value = "No time";
    for (const fold of step.querySelectorAll("details")) fold.open = true;
    const usual = step.querySelector("[data-stack-usual]");
    if (usual?.checkVisibility()) {
      usual.click();
      while (usual.checkVisibility()) await new Promise((done) => setTimeout(done, 1));
    }
    const ways = [...step.querySelectorAll("[data-event]:enabled"), document.querySelector("[data-undo]")]
      .filter((one) => one.checkVisibility());
    const way = ways[Math.floor(number * ways.length)];
    way?.click();
    for (let i = 0; way && shown() === step && i < 500; i += 1) await new Promise((done) => setTimeout(done, 1));
    if (shown() === step) continue;
    console.log(JSON.stringify({ tap: [here, way.dataset.event ?? "undo"], typed: Object.fromEntries(typed) }));
  }
}"""
# A gate's question takes a second to read: for a hand as quick as this one the page's stopwatch runs faster.
QUICK_READER = """
  const now = performance.now.bind(performance);
  performance.now = () => 2000 * now();
"""
TICK = """async ([numbers]) => {
  const left = document.querySelector("[data-finished]");
  for (const number of numbers) {
    const boxes = [...document.querySelectorAll("[data-line]:enabled")];
    const box = boxes[Math.floor(number * boxes.length)];
    const before = left.textContent;
    const tap = [box.dataset.line, !box.checked];
    box.click();
    while (left.textContent === before) await new Promise((done) => setTimeout(done, 1));
    console.log(JSON.stringify({ tap, typed: {} }));
  }
}"""


class Memory:
    """What one kind of entry held at the last start, and what the screen has confirmed since."""

    def __init__(self, kind, read_anew=()):
        self.kind, self.read_anew, self.entries = kind, read_anew, {}
        self.confirmed, self.readings = [], {}

    def look(self, entries):
        """After a kill: nothing of before is changed, then comes all that was confirmed."""
        now = {entry["id"]: entry["body"] for entry in entries if entry["kind"] == self.kind}
        added = []
        for id, body in sorted(now.items(), key=lambda one: one[1]["events"][0]["at"]):
            before = self.entries.get(id, {"events": []})["events"]
            assert body["events"][: len(before)] == before
            added += body["events"][len(before):]
            if id == self.latest_of(now):
                typed = {name: text for name, text in self.readings.items() if name not in self.read_anew}
                assert body.get("readings", {}) | typed == body.get("readings", {})
        assert set(self.entries) <= set(now)
        found, confirmed = [told(event) for event in added], self.confirmed
        assert found[: len(confirmed)] == confirmed
        self.entries, self.confirmed, self.readings = now, [], {}
        return len(confirmed), len(found) - len(confirmed)

    def hear(self, message):
        """What the page told in its console: a tap that it has shown."""
        said = json.loads(message.text)
        self.confirmed.append(tuple(said["tap"]))
        self.readings = (self.readings if said["tap"][1] != "begin" else {}) | said["typed"]

    @staticmethod
    def latest_of(bodies):
        return max(bodies, key=lambda id: bodies[id]["events"][0]["at"])

    @property
    def latest(self):
        return self.entries[self.latest_of(self.entries)] if self.entries else None


def told(event):
    return (event["line"], event["done"]) if "line" in event else (event["state"], event["event"])


def test_what_the_screen_confirmed_survives_kills(own_chromium, served, site, pytestconfig, tell):
    kills = pytestconfig.getoption("kills")
    rng = random.Random(f"{kills} kills")
    address = served.address + sorted(checklist_pages(site).values())[0]
    memories = purges, ticks = Memory("purge"), Memory("list-run")
    started, confirmed, more, made_anew = time.perf_counter(), 0, 0, 0
    for life in range(kills + 1):
        context = own_chromium.start()
        context.add_init_script(QUICK_READER)
        page = context.new_page()
        on_a_list = rng.random() < ON_A_LIST
        place = address if on_a_list else f"{served.address}purge/"
        go(page, served, place)
        entries = page.evaluate(READ)
        if not {id for memory in memories for id in memory.entries} <= {entry["id"] for entry in entries}:
            made_anew += 1
            entries = put_back(page, served)
            go(page, served, place)
        for memory in memories:
            counts = memory.look(entries)
            confirmed, more = confirmed + counts[0], more + counts[1]
        if on_a_list:
            found_ticked(page, ticks)
        else:
            found_again(page, purges)
        if life < kills:
            memory, script = (ticks, TICK) if on_a_list else (purges, TAP)
            page.on("console", memory.hear)
            dying = threading.Timer(rng.uniform(0, LONGEST_LIFE), own_chromium.strike)
            dying.start()
            with pytest.raises(PlaywrightError, match="closed"):
                while True:
                    page.evaluate(script, [[rng.random() for _ in range(NUMBERS)], hand.READINGS])
                    open_purge(page, served)
            dying.join()
            own_chromium.kill()
    tell(f"{kills} kills in {time.perf_counter() - started:.0f} s: {confirmed} confirmed taps all there, "
         f"and {more} of which nobody had heard yet; {made_anew} times the browser had made its database anew, "
         "and the second copy brought everything back")
    # A run in which nothing was tapped would show nothing.
    assert confirmed > kills


def go(page, served, place):
    page.goto(place)
    page.locator("main[data-ready]").wait_for()
    page.wait_for_function(REMEMBERED, arg=served.script)


def put_back(page, served):
    """What stands in the record once a hand has put back what is missing, with the one tap that Today offers."""
    page.goto(served.address)
    notice = page.locator("[data-loss]")
    expect(notice).to_contain_text("missing")
    notice.get_by_role("button", name="Put them back").click()
    expect(notice).to_be_hidden(timeout=60_000)
    return page.evaluate(READ)


def test_what_was_confirmed_in_a_round_survives_kills_and_stays_with_its_tank(own_chromium, served, pytestconfig, tell):
    kills = pytestconfig.getoption("kills")
    rng = random.Random(f"{kills} kills in a round")
    # the plate says what the hand would type, 15 psi: 1 psi is 6894.757 Pa (NIST SP 811); it is not asked again
    known = {"stack": cellar.USUAL, "cap_way": "Bleed cap.", "rated_pressure": 15 * 6894.757293168}
    tanks = [cellar.tank(f"FV {number}", **known) for number in range(1, 5)]
    # what an instrument shows is read anew wherever a step comes round again
    memories = {tank["id"]: Memory("purge", sums()["instruments"]) for tank in tanks}
    started, confirmed, more, made_anew = time.perf_counter(), 0, 0, 0
    for life in range(kills + 1):
        context = own_chromium.start()
        context.add_init_script(QUICK_READER)
        page = context.new_page()
        go(page, served, f"{served.address}round/")
        if not life:
            cellar.keep(page, served, *tanks, round_of(tanks))
        entries = page.evaluate(READ)
        if not memories.keys() <= {entry["id"] for entry in entries}:
            made_anew += 1
            entries = put_back(page, served)
        for tank, memory in memories.items():
            counts = memory.look([entry for entry in entries if entry["body"].get("tank") == tank])
            confirmed, more = confirmed + counts[0], more + counts[1]
        page.goto(f"{served.address}round/")
        expect(page.locator(".round-tank")).to_have_count(len(tanks))
        if life < kills:
            tank = rng.choice(tanks)["id"]
            page.on("console", memories[tank].hear)
            purge_of(page, served, tank)
            dying = threading.Timer(rng.uniform(0, LONGEST_LIFE), own_chromium.strike)
            dying.start()
            with pytest.raises(PlaywrightError, match="closed"):
                while True:
                    page.evaluate(TAP, [[rng.random() for _ in range(NUMBERS)], hand.READINGS])
                    purge_of(page, served, tank)
            dying.join()
            own_chromium.kill()
    tell(f"{kills} kills in a round in {time.perf_counter() - started:.0f} s: {confirmed} confirmed taps all there, "
         f"each with its tank, and {more} of which nobody had heard yet; {made_anew} times the browser had made its "
         "database anew, and the second copy brought everything back")
    assert confirmed > kills


def purge_of(page, served, tank):
    page.goto("about:blank")  # a change of what stands behind the # alone loads nothing
    page.goto(f"{served.address}purge/#tank={tank}")
    page.locator("main[data-ready]").wait_for()


def round_of(tanks):
    rows = [
        {"tank": tank["id"], "tank_name": tank["body"]["name"], "left_out": None, "pressure": None, "read": None}
        for tank in tanks
    ]
    body = {"initials": None, "tanks": rows, "ended": None, "open": 1}
    return cellar.entry("round", cellar.id_of("round"), cellar.MADE, body)


def open_purge(page, served):
    page.goto(f"{served.address}purge/")
    page.locator("main[data-ready]").wait_for()


def found_again(page, purges):
    """The screen shows the step that the record says, once the unfinished purge is taken up."""
    if purges.latest and "open" in purges.latest:
        page.locator("[data-go-on]").click()
        hand.step(page).wait_for()
        assert hand.state(page) == purges.latest["state"]
    else:
        assert hand.state(page) == "choose"


def found_ticked(page, ticks):
    done = {}
    for event in ticks.latest["events"] if ticks.latest else ():
        done[event["line"]] = event["done"]
    shown = page.locator("[data-line]:checked").evaluate_all("(all) => all.map((one) => one.dataset.line)")
    assert set(shown) == {line for line, is_done in done.items() if is_done}

