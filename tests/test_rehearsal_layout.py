"""The simulated tank on small phones: whatever it says, and however long its words are, it stays in its place."""

import json
from functools import cache

import hand
import pytest
from browsers import PHONE
from tankfoot.rehearsal.play import play
from tankfoot.rehearsal.scenarios import happened, scenarios
from tankfoot.site.scripts import ALL
from test_rehearsal_screens import IN_SIGHT, SMALL, TO_THE_VALVE, turn, walk

ROOTS = {"en": "", "es": "es/"}
ON_THE_FIRST_DAY = (
    "begin", "all-there", "stack-hangs", "hooked-up", "end-clear", "opened", "colour-change", "closed", "read", "seen",
    "shut", "let-out", "quiet", "ran-clear", "within-reach", "tank-side", "understood", "outer", "apart", "rinsed",
    "capped",
)
QUESTION_IN_SIGHT = """() => {
  const question = document.querySelector("[data-step]:not([hidden]) h2");
  const { left, top, bottom } = question.getBoundingClientRect();
  return [top + 2, bottom - 2].every((y) => question.contains(document.elementFromPoint(left + 3, y)));
}"""
# Tells one event as the page does, with its own words, beside a stack that hangs or an open outer clamp.
TELL = """async ([url, [happened, facts], isCalled]) => {
  const { take } = await import(url);
  const { openMessages } = take("browser/rehearsal/messages.js");
  const { sentencesOf } = take("browser/rehearsal/told.js");
  const pane = document.querySelector("[data-sim]");
  const called = isCalled ? [{ t: 0, happened: "alarm", facts: {} }] : [];
  const course = { state: { happened: called, on: {}, away: false, steps: 0 } };
  const messages = openMessages(pane, course, sentencesOf(JSON.parse(pane.dataset.words)));
  course.state.happened = [...called, { t: 1, happened, facts }];
  messages.show({ gauge: 0, handles: { away: false } }, { gauge: "", glass: "" });
  const text = pane.querySelector("[data-sim-text]");
  return {
    height: pane.getBoundingClientRect().height,
    bottom: Math.max(...[...pane.querySelectorAll(":is(.sim-sights, .sim-stack) :is(button, .sim-flow)")]
      .filter((each) => each.checkVisibility()).map((each) => each.getBoundingClientRect().bottom)),
    paneBottom: pane.getBoundingClientRect().bottom,
    isWhole: text.textContent !== "" && [text, ...pane.querySelectorAll("[data-sim-card], [data-sim-leave]")]
      .filter((each) => each.checkVisibility())
      .every((each) => [...each.getClientRects()].every((box) => {
        const seen = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
        return seen === each || each.contains(seen);
      })),
    least: Math.min(...[...pane.querySelectorAll(":scope > :not(.sim-word) button, [data-sim-card]")]
      .filter((each) => each.checkVisibility()).map((each) => each.getBoundingClientRect().height)),
  };
}"""
# Where a label of the tank leaves its button, or a button the screen: [which, by how much].
TIGHT = """(longer) => {
  const labels = [...document.querySelectorAll(".sim-sights button > span, .sim-stack button > span, .sim-flow label")];
  for (const label of longer > 1 ? labels.filter((each) => !each.hasAttribute("data-says")) : []) {
    const more = (word) => word + word.slice(0, Math.round(word.length * (longer - 1)));
    label.textContent = label.textContent.replace(/[a-z]+/g, more);
  }
  const isOut = (inner, outer) => {
    const [a, b] = [inner.getBoundingClientRect(), outer.getBoundingClientRect()];
    const wider = inner.scrollWidth - inner.clientWidth - 1;
    return Math.max(b.left - a.left, a.right - b.right, a.bottom - b.bottom, wider, 0);
  };
  const visible = labels.filter((each) => each.checkVisibility());
  const buttons = [...document.querySelectorAll(".sim-sights > *, .sim-stack > *")]
    .filter((each) => each.checkVisibility());
  return [
    ...visible.map((each) => [each.textContent, isOut(each, each.parentElement)]),
    ...buttons.map((each) => [each.className || each.dataset.turn, isOut(each, document.querySelector(".sim"))]),
    ["the page", document.documentElement.scrollWidth - innerWidth],
  ].filter(([, by]) => by > 0.5);
}"""
# Which words of the stack break: each line more than there are words, or parts of one at a hyphen.
BREAKS = """() => [...document.querySelectorAll(".sim-stack button > span")].filter((each) => each.checkVisibility())
  .filter((each) => each.getBoundingClientRect().height
    > (each.textContent.split(/[ \u00ad-]/).length + 0.5) * parseFloat(getComputedStyle(each).lineHeight))
  .map((each) => each.textContent)"""


@cache
def told():
    """{code: the facts of one that happened}, of all that a hand may be told, by the acts of the scenarios."""
    found = {"cannot": {"reason": "isolation-open"}, "closed": {}}
    for name, one in scenarios().items():
        runs = [(one["right"], None), *((wrong["acts"], wrong["until"]) for wrong in one["wrong"].values())]
        for acts, until in runs:
            found |= {each["happened"]: each["facts"] for each in play(one, name, acts, until)["state"]["happened"]}
    found |= {code: {"solids_left": found["cored"]["solids_left"]} for code in ("closed-early", "left-behind")}
    return {code: facts for code, facts in found.items() if not happened()[code]["quiet"]}


@pytest.fixture
def begun(chromium, served):
    opened = []

    def begin(width=SMALL["width"], language="en"):
        root = served.address + ROOTS[language]
        size = {"width": width, "height": SMALL["height"]}
        opened.append(chromium.new_context(**{**PHONE, "viewport": size}, locale=language, service_workers="block"))
        page = hand.hurry(opened[-1].new_page())
        page.script = root + ALL
        page.goto(f"{root}rehearsal/run/#scenario=plain-trub&anew")
        page.locator("[data-purge][data-ready]").wait_for()
        assert page.url.startswith(root)
        return page

    yield begin
    for context in opened:
        context.close()


def test_each_message_is_looked_at():
    assert set(told()) == {code for code, row in happened().items() if not row["quiet"]}


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("outer", ["stack", "open"])
@pytest.mark.parametrize("is_called", [False, True])
def test_no_message_makes_the_tank_higher_than_two_fifths_of_a_small_phone(begun, served, is_called, outer, language):
    page = begun(language=language)
    if outer == "open":
        turn(page, "outer")
        page.clock.run_for(500)
    for code, facts in told().items():
        seen = page.evaluate(TELL, [page.script, [code, json.loads(json.dumps(facts))], is_called])
        assert seen["height"] <= 0.4 * SMALL["height"], (code, seen)
        assert seen["bottom"] <= seen["paneBottom"], (code, seen)
        assert seen["isWhole"], (code, seen)
        assert seen["least"] >= 56.0, (code, seen)


def test_closed_and_the_way_out_stay_in_sight_below_a_message(begun, served):
    page = begun()
    walk(page, TO_THE_VALVE)
    assert hand.state(page) == "run"
    for code, facts in told().items():
        page.evaluate(TELL, [served.script, [code, json.loads(json.dumps(facts))], False])
        for name in ("[data-event=closed]", "[data-event-link]"):
            assert page.evaluate(IN_SIGHT, name), (code, name)


@pytest.mark.parametrize("text", ["100%", "200%"])
@pytest.mark.parametrize("longer", [1.0, 1.4])
@pytest.mark.parametrize(("width", "language"), [(320, "en"), (360, "en"), (390, "en"), (320, "es"), (360, "es")])
def test_each_label_stays_in_its_button(begun, width, language, longer, text):
    page = begun(width, language)
    page.evaluate("(text) => { document.documentElement.style.fontSize = text; }", text)
    assert page.evaluate(TIGHT, longer) == []
    if (longer, text) == (1.0, "100%"):
        assert page.evaluate(BREAKS) == []


def is_so(page, what):
    """Whether it is so at once or once the page has laid out anew; the page's own clock stands still meanwhile."""
    for _ in range(20):
        if page.evaluate(what):
            return True
        page.wait_for_timeout(50)
    return False


@pytest.mark.parametrize("locale", ["en-US", "es-MX"])
def test_the_question_of_each_step_is_seen_whole_below_the_tank(chromium, served, locale):
    context = chromium.new_context(**PHONE, locale=locale, service_workers="block")
    page = hand.hurry(context.new_page())
    page.set_viewport_size(SMALL)
    page.goto(f"{served.address}{'es/' if locale == 'es-MX' else ''}rehearsal/run/#scenario=first-day-trub&anew")
    page.locator("[data-purge][data-ready]").wait_for()
    seen = []
    for event in (*ON_THE_FIRST_DAY, None):
        page.evaluate("scrollTo(0, 0)")
        seen.append(hand.state(page))
        assert is_so(page, QUESTION_IN_SIGHT), seen
        if event:
            walk(page, [event])
    assert {"cap-valve", "vent", "run", "flowing", "result", "gate-valve", "cap", "finish"} <= set(seen)
    context.close()
