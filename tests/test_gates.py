"""A gate's question has several answers in changing order, and no habit of the hand passes it."""

import itertools
import random
import uuid
from collections import Counter

import cellar
import hand
import pytest
from playwright.sync_api import expect
from scipy.stats import binomtest
from tankfoot.purge.machine import LATEST, tables
from tankfoot.purge.shuffle import shuffled
from tankfoot.purge.stack import capped, outer, tank_side, typical, view
from tankfoot.wording import words
from test_purge_table import shortest
from test_second_taps import READ, SIZES, SPOT, Phone

STEPS = tables()[LATEST]
# Where the answers of a question are words, in the order of the page; what is drawn has its own test.
ASKED = {
    "cap-valve": ["across", "part-way", "unclear"], "cap-off": ["cap-off", "hisses", "not-off"],
    "gate-valve": ["shut", "part-way", "unclear"], "gate-pressure": ["let-out", "keeps-coming", "nothing-came"],
    "gate-count": ["quiet", "drips", "looked-away"], "gate-glass": ["ran-clear", "packed", "nothing-through"],
    "gate-cap": ["within-reach", "one-missing", "does-not-fit"],
}
DRAWN = ("cap-clamp", "gate-clamp")
PURGES = 1000
TARGET = 56.0  # px, what a fingertip in a glove covers
ORDER = """() => [...document.querySelectorAll("[data-step]:not([hidden]) .events [data-event]")]
  .filter((one) => one.checkVisibility()).map((one) => one.dataset.event)"""
LOOKS = """() => [...document.querySelectorAll("[data-step]:not([hidden]) .events [data-event]")]
  .filter((one) => one.checkVisibility()).map((one) => {
    const { color, backgroundColor, borderColor, fontSize, fontWeight } = getComputedStyle(one);
    const { offsetWidth: width, className: same } = one;
    return JSON.stringify({ color, backgroundColor, borderColor, fontSize, fontWeight, width, same });
  })"""
PUT_TANK = """async ([url, entry]) => {
  const record = (await import(url)).take("browser/storage/record.js");
  await record.put(record.edited(await record.get(entry.id), entry.body));
}"""
CLAMPS = """() => [...document.querySelectorAll("[data-step]:not([hidden]) button.clamp")]
  .filter((one) => one.checkVisibility())
  .map((one) => {
    const { x, y, width, height } = one.getBoundingClientRect();
    const frame = one.closest("[data-own-stack]").getBoundingClientRect();
    return { event: one.dataset.event, name: one.getAttribute("aria-label"), title: one.title, text: one.textContent,
      box: [x, y, width, height], frame: [frame.x, frame.y, frame.width, frame.height] };
  })"""


@pytest.fixture(params=SIZES.values(), ids=SIZES)
def at(request, phone, served):
    made = Phone(phone, served, request.param)
    made.open(f"go-on={made.purge['id']}")
    return made


def seed(id, state, count, asked=0):
    """As browser/purge/gate.js makes it; test_the_page_asks_in_the_order_of_the_seed holds it to that."""
    return f"{id}/{state}/{count}/{asked}"


def ids():
    """Purges' ids, as crypto.randomUUID makes them (RFC 9562, version 4)."""
    rng = random.Random(11)
    return [str(uuid.UUID(int=rng.getrandbits(128), version=4)) for _ in range(PURGES)]


def test_every_question_of_a_gate_has_three_answers_or_more(at):
    gates = {state for state, step in STEPS.items() if step.gate and not state.endswith("-wrong")}
    assert gates == {*ASKED, *DRAWN}
    for state, answers in ASKED.items():
        at.put_on(shortest(LATEST, state), {})
        assert sorted(at.page.evaluate(ORDER)) == sorted(answers)
        # alike in look, so that none is the button
        assert len(set(at.page.evaluate(LOOKS))) == 1, state


def written(state):
    """The answers in the order of the page's source, where the words have them."""
    return [event for event in words("purge_steps")[state]["events"] if event in ASKED[state]]


def test_the_page_asks_in_the_order_of_the_seed(at):
    orders = {state: set() for state in ASKED}
    for _ in range(6):
        at.purge = cellar.walked(["begin"], "FV 1", readings=READ)
        at.page.goto(at.served.address)
        cellar.keep(at.page, at.served, at.purge)
        at.open(f"go-on={at.purge['id']}")
        for state in ASKED:
            names = shortest(LATEST, state)
            at.put_on(names, {})
            order = at.page.evaluate(ORDER)
            assert order == shuffled(written(state), seed(at.purge["id"], state, len(names))), state
            orders[state].add(tuple(order))
    # of six orders; by hand, six draws are all the same once in 7,776
    assert all(len(seen) > 1 for seen in orders.values())


def test_the_clamps_are_drawn_where_the_seed_has_them_a_glove_apart_and_whole(at):
    for parts in typical().values():
        tank = cellar.tank("FV 1", stack=parts, cap_way="Bleed cap.")
        at.page.evaluate(PUT_TANK, [at.served.script, tank])
        for state in DRAWN:
            names = shortest(LATEST, state)
            at.put_on(names, {})
            hangs = capped(parts) if state == "cap-clamp" else parts
            drawn = view(hangs, seed(at.purge["id"], state, len(names)))
            clamps = at.page.evaluate(CLAMPS)
            places = [part for part in drawn["parts"] if part["part"] == "clamp"]
            assert len(clamps) == len(places) == hangs.count("clamp")
            left, top, width, height = clamps[0]["frame"]
            scale = width / (320.0 if drawn["turn"] == "down" else drawn["length"])
            for clamp, part in zip(clamps, places, strict=True):
                x, y, across, along = clamp["box"]
                assert (across, along) == (TARGET, TARGET)
                assert x + TARGET / 2 - left == pytest.approx(scale * part["x"], abs=2.5)
                assert y + TARGET / 2 - top == pytest.approx(scale * part["y"], abs=2.5)
                assert left <= x and x + TARGET <= left + width and top <= y and y + TARGET <= top + height
            middles = [(clamp["box"][0], clamp["box"][1]) for clamp in clamps]
            # design: targets of 56 px with 8 px between
            pairs = itertools.combinations(middles, 2)
            assert all(max(abs(a - c), abs(b - d)) >= TARGET + 8 for (a, b), (c, d) in pairs)


def test_an_answer_within_a_second_is_asked_again_in_another_order(at):
    for state, answers in ASKED.items():
        names = shortest(LATEST, state)
        at.put_on(names[:-1], {})
        at.tap(at.page.evaluate(SPOT, names[-1]))
        at.is_at(state)
        at.page.clock.run_for(900)  # past what a second tap is not taken for, and within the second
        right = answers[0]
        if state == "gate-count":
            right = "drips"
        at.tap(at.page.evaluate(SPOT, right))
        at.page.clock.run_for(50)
        assert at.seen()["events"] == names, state
        expect(at.page.locator("[data-not-taken]")).to_contain_text("quicker than anyone reads")
        assert at.page.evaluate(ORDER) == shuffled(written(state), seed(at.purge["id"], state, len(names), 1))
        at.page.clock.run_for(hand.LOOK)
        at.tap(at.page.evaluate(SPOT, right))
        at.is_at(STEPS[state].events[right])


def test_a_hand_that_always_presses_the_same_place_passes_one_question_in_three(tell):
    """The place of the first, second or third button, whatever it says."""
    worst = {}
    for state in ASKED:
        count = len(shortest(LATEST, state))
        right = written(state)[0]
        places = Counter(shuffled(written(state), seed(id, state, count)).index(right) for id in ids())
        worst[state] = max(places.values())
        told = binomtest(worst[state], PURGES).proportion_ci(0.95)
        tell(f"{state}: the best place passes {worst[state] / PURGES:.1%} ({told.low:.1%} to {told.high:.1%})")
        assert told.low <= 1 / 3, state


@pytest.mark.parametrize("stack", typical(), ids=typical())
@pytest.mark.parametrize("state", DRAWN)
def test_a_hand_that_always_touches_the_same_point_of_the_drawing_passes_no_more_than_one_in_three(state, stack, tell):
    """Every point of the drawing, eight pixels apart."""
    parts = capped(typical()[stack]) if state == "cap-clamp" else typical()[stack]
    count, hits = len(shortest(LATEST, state)), Counter()
    for id in ids():
        drawn = view(parts, seed(id, state, count))
        (middle,) = [part for place, part in enumerate(drawn["parts"]) if place == outer(parts) + 1]
        hits.update(points_near(middle["x"], middle["y"]))
    (point, most), = hits.most_common(1)
    told = binomtest(most, PURGES).proportion_ci(0.95)
    tell(f"{state}, {stack}: the best point, {point}, passes {most / PURGES:.1%} ({told.low:.1%} to {told.high:.1%})")
    assert told.low <= 1 / 3


def points_near(x, y, apart=8):
    """The points of a grid that a target round (x, y) covers."""
    reach = TARGET / 2
    across = range(int((x - reach) // apart) + 1, int((x + reach) // apart) + 1)
    along = range(int((y - reach) // apart) + 1, int((y + reach) // apart) + 1)
    return [(a * apart, b * apart) for a in across for b in along
            if (a * apart - x) ** 2 + (b * apart - y) ** 2 <= reach**2]


def test_the_clamps_are_reached_by_keys_and_named_by_place_alone(at):
    for state in DRAWN:
        names = shortest(LATEST, state)
        at.put_on(names, {})
        clamps = at.page.evaluate(CLAMPS)
        said = [clamp["name"] for clamp in clamps]
        # each is named by what it lies between, so all names differ; none says which one it is
        assert len(set(said)) == len(said) and all(name.startswith("Clamp between ") for name in said)
        told = " ".join(str(clamp[part]) for clamp in clamps for part in ("name", "title", "text")).lower()
        telling = ("right", "wrong", "outer", "tank-side", "correct", "open")
        assert not [word for word in telling if word in told.split()]
        reached = set()
        for _ in range(25):
            at.page.keyboard.press("Tab")
            reached.add(at.page.evaluate("() => document.activeElement.getAttribute('aria-label')"))
        assert set(said) <= reached
        at.page.get_by_role("button", name=wanted_name(clamps)).focus()
        at.page.keyboard.press("Enter")
        at.is_at({"cap-clamp": "cap-off", "gate-clamp": "takedown"}[state])


def wanted_name(clamps):
    return next(clamp["name"] for clamp in clamps if clamp["event"] == "outer")


def test_which_clamp_is_which_follows_from_the_valves_alone():
    # read off each stack by a person: places of the tank-side clamps, and of the first one below the isolation valve
    assert {name: (tank_side(parts), outer(parts)) for name, parts in typical().items()} == {
        "usual": ([0], 2), "glass-first": ([0], 2), "valve-welded": ([], 1), "long-pipe": ([0, 2], 4),
        "elbow": ([0], 2),
    }
