"""The practice of the clamp gate: each stack has one answer, the drawing and its words hold every part."""

import copy
from pathlib import Path
from xml.etree import ElementTree

import pytest
from playwright.sync_api import expect
from tankfoot.checklists import ChecklistError, parsed, shaped
from tankfoot.checklists.practice import NONE, StacksShape, stacks, with_words
from tankfoot.site.stack_drawing import choices, extent, placed, told
from test_own_lists import flaws
from test_record import READ

FILE = Path(__file__).parent.parent / "site_src" / "tankfoot" / "checklists" / "stacks.toml"
DATA = {stack["id"]: stack for stack in with_words(parsed(FILE))["stacks"]}
EVERY = pytest.mark.parametrize("stack", stacks().values(), ids=stacks())

# Read off the drawings by hand: the clamp nearest the tank that has no valve before it, or for a job the clamp just
# above what comes off, none where the clamp list stops (29 CFR 1910.147(d)(5), stored energy; from memory).
ANSWERS = {
    "straight": "B", "capped": "A", "glass-first": "C", "elbow": "D", "lying": "C", "tee": "B", "side-outlet": "C",
    "two-butterflies": "D", "long-pipe": "A", "arm-welded": "C", "arm-clamped": "C", "now-ready": "D",
    "now-open": NONE, "now-shut-in": NONE, "now-packed": NONE, "now-glass": "C", "now-silent": NONE,
    "now-drips": NONE, "now-seal": NONE, "now-cap": NONE,
}
# How the drawing in words names each kind of part: the words of the trade. Common practice, no source.
NAMED = {
    "clamp": "clamp {letter}", "pipe": "pipe", "cap": "cap", "gauge": "gauge", "elbow": "bend", "tee": "tee",
    "butterfly": "butterfly valve", "diaphragm": "diaphragm valve", "sight-glass": "sight glass", "hose": "hose",
}


def parts_of(data):
    for part in [*data["parts"], *data.get("arm", [])]:
        yield part
        yield from part.get("side", [])


@EVERY
def test_exactly_one_choice_is_right_and_it_is_the_one_read_off_by_hand(stack):
    assert [chosen for chosen, (right, _) in choices(stack).items() if right] == [ANSWERS[stack.id]]


@EVERY
def test_a_wrong_answer_says_no_and_why_and_a_right_one_says_why(stack):
    for chosen, (right, reply) in choices(stack).items():
        assert reply.startswith("Right" if right else "No")
        assert len(reply.split()) > 8 and "{" not in reply, chosen
        assert right or reply.count(". ") <= 2, reply


@EVERY
def test_the_words_hold_every_part_in_order_and_do_not_name_the_right_one(stack):
    words, so_far = told(stack), 0
    for part in parts_of(DATA[stack.id]):
        so_far = words.index(NAMED[part["part"]].format(letter=part.get("letter")), so_far) + 1
    assert all(word not in words for word in ("tank-side", "outer", "isolation", "never", "right one"))
    assert stack.gauge is None or stack.gauge in words


@EVERY
def test_every_part_is_drawn_inside_the_picture_and_the_letters_stand_apart(stack):
    parts = placed(stack)
    wide, high = extent(parts)
    assert len(parts) == len(list(parts_of(DATA[stack.id])))
    letters = [part.label for part in parts if part.letter]
    assert all(20 <= x <= wide - 20 and 20 <= y <= high - 20 for x, y in letters)
    near = [(x - u) ** 2 + (y - v) ** 2 for i, (x, y) in enumerate(letters) for u, v in letters[:i]]
    assert min(near) >= 56**2


def refused(change):
    data = copy.deepcopy(DATA["tee"])
    change(data)
    with pytest.raises(ChecklistError) as told_so:
        shaped(StacksShape(), "stacks.toml", {"stacks": [data]})
    return str(told_so.value)


# The tank-side clamp is the one with no valve before it: a stack with two of them, or none, has no one answer.
def test_a_stack_with_two_clamps_or_none_before_the_valve_is_refused():
    two = {"part": "clamp", "letter": "E"}
    assert "it must be one" in refused(lambda data: data["parts"].insert(1, two))
    assert "it must be one" in refused(lambda data: data["parts"].pop(0))


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        (lambda data: data["parts"].pop(), "does not end"),
        (lambda data: data["parts"][0].update(letter="D"), "letters its clamps"),
        (lambda data: data["parts"][1].update(stands="ajar"), "no state it has"),
        (lambda data: data["parts"][1].update(part="diaphragm"), "no butterfly valve"),
        (lambda data: data.update(job="Off with it."), "a job without a part"),
        (lambda data: data.update(job="Off with it.", off="clamp"), "not there once"),
        (lambda data: data["parts"][0].update(turn="left"), "has no use for it"),
        (lambda data: data.update(why="Then it is safe."), "promises too much"),
    ],
)
def test_a_broken_stack_is_refused_with_what_is_wrong(change, complaint):
    assert complaint in refused(change)


def test_every_symbol_of_a_drawing_is_there(site):
    page = (site / "checklists" / "practice" / "index.html").read_text(encoding="utf-8")
    drawings = [f"<svg{piece.partition('</svg>')[0]}</svg>" for piece in page.split("<svg")[1:]]
    trees = [ElementTree.fromstring(drawing) for drawing in drawings if "part-" in drawing]
    there = {each.get("id") for tree in trees for each in tree.iter() if each.get("id")}
    used = {each.get("href").removeprefix("#") for tree in trees for each in tree.iter("use")}
    assert len(trees) == len(stacks()) + 1
    assert used <= there


@pytest.fixture
def practice(phone, served):
    page = phone.new_page()
    return opened(page, served)


def opened(page, served):
    page.goto(f"{served.address}checklists/practice/")
    page.locator("main[data-ready]").wait_for()
    return page


def shown(page):
    return page.locator("[data-stack]:visible")


def answer(page, chosen):
    """Taps a choice and, once its reply stands there, the button that the focus has gone to."""
    shown(page).locator(f"button[data-choice={chosen}]").click()
    expect(shown(page).locator("[data-next]")).to_be_focused()
    page.keyboard.press("Enter")


def trained(page):
    return [entry for entry in page.evaluate(READ) if entry["kind"] == "training"]


def test_every_stack_is_asked_once_each_answer_is_kept_and_the_score_is_shown(practice, served):
    wrong = "now-ready"
    for count in range(len(ANSWERS)):
        id = shown(practice).get_attribute("data-stack")
        chosen = NONE if id == wrong else ANSWERS[id]
        shown(practice).locator(f"button[data-choice={chosen}]").click()
        reply = shown(practice).locator("[data-reply-here]")
        expect(reply).to_have_text(choices(stacks()[id])[chosen][1])
        expect(shown(practice).locator("[data-next]")).to_be_focused()
        if count in (0, 7):
            (entry,) = trained(practice)
            last = entry["body"]["answers"][-1]
            assert (last["stack"], last["chosen"], last["right"]) == (id, chosen, id != wrong)
            assert len(entry["body"]["answers"]) == count + 1
        if count == 7:  # the phone was put away in between
            opened(practice, served)
            expect(practice.locator("[data-score]")).to_contain_text("8 of 8 right")
        else:
            practice.keyboard.press("Enter")
    score = f"{len(ANSWERS) - 1} of {len(ANSWERS)} right"
    expect(practice.get_by_role("heading", name=score)).to_be_focused()
    expect(practice.locator("[data-past] li")).to_contain_text(score)
    (entry,) = trained(practice)
    assert sorted(answer["stack"] for answer in entry["body"]["answers"]) == sorted(ANSWERS)
    assert entry["body"]["exercise"] == "which-clamp"


def test_a_tap_on_the_clamp_itself_answers_once(practice):
    id = shown(practice).get_attribute("data-stack")
    chosen = next(letter for letter in stacks()[id].letters if letter != ANSWERS[id])
    shown(practice).locator(f"g[data-choice={chosen}] text").click()
    expect(shown(practice).locator("[data-reply-here]")).to_contain_text("No.")
    expect(shown(practice).locator(f"button[data-choice={chosen}]")).to_contain_text("✗")
    expect(shown(practice).locator("[data-right]")).to_contain_text("✓")
    shown(practice).locator(f"g[data-choice={ANSWERS[id]}] text").click()
    assert flaws(practice) == ([], 0)
    assert len(trained(practice)[0]["body"]["answers"]) == 1


def test_another_round_asks_all_again(practice):
    for _ in ANSWERS:
        answer(practice, ANSWERS[shown(practice).get_attribute("data-stack")])
    practice.get_by_role("button", name="Start again").click()
    expect(shown(practice).locator("button[data-choice]").first).to_be_enabled()
    expect(practice.locator("[data-score]")).to_have_text(f"{len(ANSWERS)} drawings.")


def test_the_clamp_list_and_the_page_of_lists_lead_to_it(site):
    for address, link in (("checklists", "practice/"), ("checklists/before-breaking-a-clamp", "../practice/")):
        assert f'href="{link}"' in (site / address / "index.html").read_text(encoding="utf-8")
