"""The signs beside the titles of the purge's steps: small, without words, and in nobody's way."""

import re

import hand
import pytest
from speakers import speaker
from tankfoot.checklists import cards
from tankfoot.purge.machine import LATEST, tables
from tankfoot.site.signs import signs
from tankfoot.site.step_signs import PICTURES, step_signs
from test_purge_table import shortest
from test_second_taps import RUNNING, SIZES, Phone

SIDE, SHOWN_AT = 48, 44  # a sign's own units, and the CSS pixels that it is shown at
TILE = 66, 44  # a card's drawing on its tile, CSS px
AIR = 1.0  # px left free at every edge of either, so that nothing looks cut. The project's own figure, no source
THIN = 2.0  # px, the least a stroke may be there. The project's own figure, no source
MOST = 560  # bytes; each stands in the page itself. The project's own figure, no source
# Where the lines of a step end and its buttons stand, with its sign and without.
PLACES = """() => {
  const step = document.querySelector("[data-step]:not([hidden])");
  const sign = step.querySelector("h2 svg");
  const places = () => [...step.querySelectorAll(".lines, .reach, .reach [data-event], [data-event-link]")]
    .filter((one) => one.checkVisibility()).map((one) => Math.round(one.getBoundingClientRect().bottom));
  const { width, height } = sign.getBoundingClientRect();
  const withSign = places();
  sign.style.display = "none";
  const without = places();
  sign.style.display = "";
  return { sign: [width, height], withSign, without };
}"""
# How much is free at the left, the top, the right and the bottom, CSS px, of a drawing on white shown so wide and high.
FREE = """async ([svg, wide, high]) => {
  const fine = 16;
  const image = new Image();
  image.src = `data:image/svg+xml,${encodeURIComponent(svg)}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [wide * fine, high * fine];
  const pen = canvas.getContext("2d");
  pen.drawImage(image, 0, 0, canvas.width, canvas.height);
  const { data } = pen.getImageData(0, 0, canvas.width, canvas.height);
  const [across, down] = [[], []];
  for (let place = 0; place < data.length; place += 4) {
    if (data[place] > 200) continue;
    across[(place / 4) % canvas.width] = true;
    down[Math.floor(place / 4 / canvas.width)] = true;
  }
  const first = (marked) => marked.findIndex(Boolean);
  const free = [first(across), first(down), canvas.width - across.length, canvas.height - down.length];
  return free.map((one) => one / fine);
}"""
CHECKS = """() => {
  const step = document.querySelector("[data-step]:not([hidden])");
  const ends = [...step.querySelectorAll(".lines li")].map((line) => line.getBoundingClientRect().bottom);
  return [Math.max(...ends), step.querySelector(".reach").getBoundingClientRect().top];
}"""
SHOWN = """(states) => {
  const main = document.querySelector("[data-purge]");
  main.dataset.shared = "";
  for (const step of main.querySelectorAll("[data-step]")) step.hidden = !states.includes(step.dataset.step);
  return [...main.querySelectorAll("h2 svg")].filter((one) => one.checkVisibility())
    .map((one) => one.closest("[data-step]").dataset.step);
}"""


def test_a_sign_is_small_says_nothing_and_takes_the_colour_of_its_title():
    for name in {*step_signs().values()}:
        drawn = (PICTURES / f"step-{name}.svg").read_text(encoding="utf-8")
        assert len(drawn.encode()) < MOST, name
        assert drawn.startswith('<svg viewBox="0 0 48 48" aria-hidden="true">')
        assert {*re.findall(r"<(\w+)", drawn)} <= {"svg", "g", "path", "circle"}, name
        assert {*re.findall(r'(?:stroke|fill)="([^"]+)"', drawn)} == {"none", "currentColor"}, name


def test_no_stroke_of_a_sign_is_too_thin_to_be_seen_at_arms_length():
    for name in {*step_signs().values()}:
        drawn = (PICTURES / f"step-{name}.svg").read_text(encoding="utf-8")
        for tag in re.findall(r"<[^>]*stroke-width[^>]*>", drawn):
            scale = re.search(r"matrix\((\S+) ", tag)
            width = float(re.search(r'stroke-width="([^"]+)"', tag)[1]) * (float(scale[1]) if scale else 1)
            assert width * SHOWN_AT / SIDE >= THIN, (name, tag)


@pytest.fixture
def blank(chromium):
    context = chromium.new_context(service_workers="block")
    yield context.new_page()
    context.close()


def test_no_sign_and_no_drawing_of_a_card_reaches_the_edge_of_its_frame(blank):
    shown = {f"step-{name}": (SHOWN_AT, SHOWN_AT) for name in step_signs().values()}
    shown |= {f"card-{name}": TILE for name in cards()}
    drawn = signs()
    free = {name: blank.evaluate(FREE, [drawn[f"{name}.svg"], *size]) for name, size in shown.items()}
    assert {name: edges for name, edges in free.items() if min(edges) < AIR} == {}


# Without it a reader took what is drawn for what to do: to rinse the eye, to squeeze the tank, to lie down.
def test_every_card_is_drawn_under_the_same_warning_triangle_in_the_same_place():
    triangle = (PICTURES / "_danger.svg").read_text(encoding="utf-8").strip()
    assert triangle.startswith("<path ") and triangle.count("<") == 1
    for name in cards():
        drawn = signs()[f"card-{name}.svg"]
        assert drawn.count(triangle) == 1, name
        assert drawn.index(triangle) == drawn.index(">") + 1, name  # in no group that would move or shrink it


def test_every_step_has_a_sign_but_a_gate_which_it_would_answer():
    assert {state for state, step in tables()[LATEST].items() if not step.gate} == {*step_signs()}


def test_every_stop_has_the_same_sign_and_every_sign_that_is_drawn_stands_somewhere():
    assert {step_signs().get(state) for state, step in tables()[LATEST].items() if step.stop} == {"stop"}
    assert {path.stem for path in PICTURES.glob("step-*.svg")} == {f"step-{name}" for name in step_signs().values()}


@pytest.fixture
def at(phone, served):
    made = Phone(phone, served, SIZES["small"])
    made.open(f"go-on={made.purge['id']}")
    return made


def test_while_beer_can_run_a_sign_moves_nothing_on_a_small_phone(at):
    for state in RUNNING:
        at.put_on(shortest(LATEST, state), {})
        seen = at.page.evaluate(PLACES)
        assert seen["sign"] == [44, 44], state
        assert seen["withSign"] == seen["without"], state


# What is asked there before anything is opened is read before it is answered: no line of it is under the answers.
@pytest.mark.parametrize("locale", ["en-US", "es-MX"])
def test_a_sign_pushes_no_line_of_the_first_checks_under_their_answers_on_a_small_phone(locale, chromium, served):
    one = speaker(chromium, served, locale)
    at = Phone(one.context, one.site, SIZES["small"])
    at.open(f"go-on={at.purge['id']}")
    at.put_on(shortest(LATEST, "ready"), {})
    lowest, answers = at.page.evaluate(CHECKS)
    one.context.close()
    assert lowest <= answers


def test_a_sign_gives_way_to_text_twice_as_large_and_is_no_part_of_the_title(at):
    at.put_on(shortest(LATEST, "takedown"), {})
    assert hand.step(at.page).locator("h2.step").inner_text() == "Take down"
    at.page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    assert at.page.evaluate(PLACES)["sign"][0] == 0


def test_of_steps_that_share_a_screen_the_first_ones_sign_stands_there_alone(at):
    assert at.page.evaluate(SHOWN, ["contact", "pressure", "gas", "margin"]) == ["contact"]
    assert at.page.evaluate(SHOWN, ["takedown", "rinse", "cap"]) == ["takedown"]
