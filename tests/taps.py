"""Counts what a whole purge asks of a hand: ``python tests/taps.py`` walks both paces on the frozen site.

From the tile on Today to "Saved": a known tank, closed, its gas shut, on a screen of 360 x 640. A press is every time
the glass is touched, a field to type in included. With --shots FOLDER it keeps a picture of every screen.

The seconds are those of the keystroke-level model: what a hand thinks, points and presses, and neither what it reads
nor what it waits for (Card, Moran and Newell 1980, Communications of the ACM 23(7):396-410). Table 1, of 22 events, is
no page's any more: its figures follow from the table.
"""

import argparse
import tempfile
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from threading import Thread

import cellar
import hand
from browsers import PHONE, light_options
from playwright.sync_api import sync_playwright
from tankfoot.checklists.practice import stacks
from tankfoot.purge.machine import FIRST, LAST, kind_of, next_state, sums, tables
from tankfoot.site.freezer import freeze
from tankfoot.site.server import bind

SMALL = {"width": 360, "height": 640}
# Seconds of the model's operators (the paper's table of operators, values as handbooks quote it).
MENTAL = 1.35  # M: to prepare for what comes next
POINT = 1.10  # P: to move to a target; an average, between 0.8 and 1.5
PRESS = 0.20  # K of a button
KEY = 0.28  # K of an average typist who is no secretary, 40 words a minute
ON = {  # what a purge without trouble answers at each step
    "choose": "begin", "ready": "all-there", "cap-valve": "across", "cap-clamp": "outer", "cap-off": "cap-off",
    "sanitise": "wet", "contact": "time-over", "hookup": "hooked-up", "pressure": "at-pressure", "gas": "gas-shut",
    "margin": "fits", "run": "opened", "flowing": "colour-change", "beer": "closed", "after": "read", "result": "seen",
    "gate-valve": "shut", "gate-pressure": "let-out", "gate-count": "quiet", "gate-glass": "ran-clear",
    "gate-cap": "within-reach", "gate-clamp": "outer", "takedown": "apart", "rinse": "rinsed", "cap": "capped",
    "topup": "topped-up", "finish": "save",
}
NUMBERS = {"temperature": "36", "pressure_found": "11", "pressure_before": "12", "pressure_after": "10.5"}
BY = "AB"
TOUCHED = """addEventListener("pointerdown", ({ target }) => {
  const step = target.closest("[data-step]");
  window.touched(step?.classList.contains("gate") ?? false);
}, { capture: true });"""
# The title of a step and its lines; the first step has none, and its title asks for a tank, which is known.
SHOWN = """() => {
  const seen = [...document.querySelectorAll("[data-step]:not([data-step=choose]) :is(.step, .lines li)")];
  return seen.filter((each) => each.checkVisibility()).map((each) => each.textContent.replace(/\\s+/g, " ").trim());
}"""
STATES = """() => [...document.querySelectorAll("[data-step]:not([hidden])")].map(({ dataset }) => dataset.step)"""


@dataclass
class Walk:
    """What one walk took: presses, answers of gates, typed numbers, screens; the lines that were shown."""

    pace: str
    taps: int = 0
    gates: int = 0
    numbers: list = field(default_factory=list)
    decisions: int = 0  # presses that are no mere focus of a field
    screens: list = field(default_factory=list)
    lines: list = field(default_factory=list)

    @property
    def seconds(self):
        presses = (self.taps + self.gates) * (POINT + PRESS) + self.decisions * MENTAL
        return presses + sum(MENTAL + (len(text) + entered) * KEY for text, entered in self.numbers)

    def __str__(self):
        return (f"{self.pace}: {self.taps} taps, {self.gates} gate answers, {len(self.numbers)} typed numbers, "
                f"{len(self.screens)} screens, {self.seconds:.0f} s")


def known_cellar(now):
    """A tank that was purged five times by one hand at every step, who has practised since."""
    tank = cellar.tank("FV 1", stack=cellar.USUAL, cap_way="Bleed cap, a quarter turn.", hold_pressure=82737.0,
                       purge_every=86400.0)
    names = ["begin", *(ON[state] for state in ON if state not in (FIRST,))]
    lost = {"volume_lost": {"value": 0.02, "uncertainty": 0.002}}
    readings = {"contact_time": "60 s", "pressure_before": "12 psi", "pressure_after": "10.5 psi", "flow": "2 gal/min"}
    past = [cellar.walked(names, "FV 1", now=now - timedelta(days=1 + place), initials=BY, result=lost,
                          readings=readings) for place in range(5)]
    for entry in past:
        del entry["body"]["open"]
    at = cellar.instant(now - timedelta(days=1))
    answers = [{"stack": stack, "chosen": "A", "right": True, "at": at} for stack in stacks()]
    practice = cellar.entry("training", cellar.id_of("practice"), at,
                            {"exercise": "which-clamp", "at": at, "initials": BY, "answers": answers})
    return [tank, *past, practice]


def walk(context, served, pace, *, shots=None, settings=None):
    """Walks one purge from Today's tile to "Saved"."""
    page = hand.hurry(context.new_page())
    page.set_viewport_size(SMALL)
    page.goto(served.address)
    cellar.remember(page, served, initials=BY, region="us", every_step=pace != "short", **(settings or {}))
    cellar.keep(page, served, *known_cellar(cellar.moment(page.evaluate("Date.now()"))))
    made = Walk(pace)
    page.expose_function("touched", lambda is_gate: _count(made, is_gate))
    page.add_init_script(TOUCHED)
    page.goto(served.address)
    page.locator("[data-today][data-ready]").wait_for()
    made.decisions += 1
    page.locator("[data-due] a").first.click()
    page.locator("[data-purge][data-ready]").wait_for()
    while (states := page.evaluate(STATES)) != [LAST]:
        made.screens.append(states)
        hand.look(page)
        if states[0] == "contact":
            hand.wait(page, 61_000)
        made.lines += page.evaluate(SHOWN)
        if shots:
            page.screenshot(path=Path(shots) / f"{pace}-{len(made.screens):02d}-{'+'.join(states)}.png")
        _answer(page, made, states)
        page.wait_for_function(f"() => JSON.stringify(({STATES})()) !== '{_json(states)}'")
    page.close()
    return made


def _json(states):
    return "[" + ",".join(f'"{state}"' for state in states) + "]"


def _count(made, is_gate):
    if is_gate:
        made.gates += 1
    else:
        made.taps += 1


def _answer(page, made, states):
    """What is read on the screen, then its answer: Enter where the field is the last thing asked and Enter answers."""
    typed = None
    for entry in page.locator("[data-step]:not([hidden]) [data-field]:not([hidden])").all():
        name = entry.get_attribute("data-field")
        box = entry.locator("[data-entry]")
        if name in NUMBERS and box.is_visible() and not box.input_value():
            if not box.evaluate("one => one === document.activeElement"):
                box.click()
            page.keyboard.type(NUMBERS[name])
            typed = name
            made.numbers.append((NUMBERS[name], 0))
    if typed and len(states) > 1:
        made.numbers[-1] = (NUMBERS[typed], 1)
        page.keyboard.press("Enter")
        return
    made.decisions += 1
    page.locator(f"[data-step={states[-1]}] [data-event={ON[states[-1]]}]").locator("visible=true").first.click()


def of_a_table(name):
    """The walk by a table that no page walks any more: a press for each event and for each field that is read."""
    made, state, names = Walk(f"table {name}"), FIRST, []
    while state != LAST:
        step = tables()[name][state]
        event = ON.get(state) if ON.get(state) in step.events else next(iter(step.events))
        read = [each for each in step.saves if each in NUMBERS and each in sums()["instruments"]]
        made.numbers += [(NUMBERS[each], 0) for each in read]
        made.screens.append([state])
        made.decisions += 1
        made.gates += step.gate
        made.taps += (not step.gate) + len(read)
        state, names = next_state(state, event, names, name), [*names, event]
    made.taps, made.decisions = made.taps + 1, made.decisions + 1  # Today's tile
    assert kind_of(names) == "closed"
    return made


def missing(every, short):
    """The titles and lines that the one shows and the other does not."""
    return [line for line in every.lines if line not in short.lines]


class Server:
    def __init__(self, folder):
        self._server = bind(folder, 8902)
        self.address = f"http://127.0.0.1:{self._server.server_port}/"
        self.script = f"{self.address}js/tankfoot.js"
        Thread(target=self._server.serve_forever, daemon=True).start()

    def stop(self):
        self._server.shutdown()
        self._server.server_close()


def main():
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--shots", help="a folder for a picture of every screen")
    shots = asked.parse_args().shots
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        freeze(Path(folder) / "site")
        served = Server(Path(folder) / "site")
        browser = playwright.chromium.launch(**light_options(playwright))
        paces = []
        for pace in ("every step", "short"):
            context = browser.new_context(**PHONE, service_workers="block")
            paces.append(walk(context, served, pace, shots=shots))
            context.close()
        print(of_a_table("1"), *paces, sep="\n")
        for each in paces:
            print(f"\n{each.pace}:", *each.lines, sep="\n  ")
        print("\nnot shown in the short pace:", *(missing(*paces) or ["none"]), sep="\n  ")
        browser.close()
        served.stop()


if __name__ == "__main__":
    main()
