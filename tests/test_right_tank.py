"""The right tank: the one that was tapped opens, its name is the largest on every step, and leaving can be undone."""

import cellar
import hand
import pytest
from playwright.sync_api import expect
from tankfoot.purge.machine import FIRST, LAST, LATEST, tables
from test_purge_table import shortest
from test_second_taps import READ, SIZES, Phone

STATES = [state for state in tables()[LATEST] if state not in (FIRST, LAST)]
# The sizes of all text that is shown, px, the tank's name apart.
TEXT_SIZES = """() => {
  const name = document.querySelector("[data-of-tank]");
  const sizes = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const one = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || name.contains(one) || !one.checkVisibility()) continue;
    sizes.push([parseFloat(getComputedStyle(one).fontSize), one.outerHTML.slice(0, 60), one.matches("[role=timer]")]);
  }
  return { name: [parseFloat(getComputedStyle(name).fontSize), name.textContent, name.checkVisibility()], sizes };
}"""


@pytest.fixture(params=SIZES.values(), ids=SIZES)
def page(request, phone, served):
    page = hand.hurry(phone.new_page())
    page.set_viewport_size(request.param)
    page.goto(f"{served.address}settings/")
    page.served = served
    return page


def two_open(page):
    """Two unfinished purges, the second touched last, and a third tank."""
    names = ("FV 1", "FV 2", "FV 3")
    cellar.keep(page, page.served, *(cellar.tank(name, purge_every=3600.0) for name in names))
    purges = [cellar.walked(shortest(LATEST, "gate-glass"), name, readings=READ, gap=5 - place)
              for place, name in enumerate(names[:2])]
    cellar.keep(page, page.served, *purges)
    return purges


def heading(page):
    return page.get_by_role("heading", level=1)


def open_on(page, anchor):
    page.goto(page.served.address)
    hand.open_purge(page, page.served.address, anchor)


def test_the_tank_that_was_tapped_opens_and_the_others_wait_under_it_by_name(page):
    two_open(page)
    others = page.locator("[data-others] li")
    for name, rest in (("FV 1", ["FV 2"]), ("FV 2", ["FV 1"])):
        open_on(page, f"#tank={cellar.id_of(name)}")
        expect(heading(page)).to_have_text(name)
        expect(hand.step(page)).to_have_attribute("data-step", "gate-glass")
        assert [text.split("\n")[0].split(" Trub")[0] for text in others.all_inner_texts()] == rest
        step = hand.step(page).bounding_box()
        assert others.first.bounding_box()["y"] >= step["y"] + step["height"] - 1
    # a tank that is due and has no purge begins its own, whatever else is under way
    open_on(page, f"#tank={cellar.id_of('FV 3')}")
    expect(hand.step(page)).to_have_attribute("data-step", "choose")
    expect(page.get_by_label("FV 3")).to_be_checked()
    expect(others).to_have_count(2)
    others.filter(has_text="FV 1").get_by_role("link").click()
    expect(heading(page)).to_have_text("FV 1")
    expect(hand.step(page)).to_have_attribute("data-step", "gate-glass")


def test_from_today_a_tap_on_a_due_tank_opens_that_tank(page):
    two_open(page)
    page.goto(page.served.address)
    page.locator("[data-due]").get_by_role("link", name="FV 3").click()
    page.locator("[data-purge][data-ready]").wait_for()
    expect(hand.step(page)).to_have_attribute("data-step", "choose")
    expect(page.get_by_label("FV 3")).to_be_checked()


def test_with_no_tank_named_all_that_is_open_is_offered_by_name(page):
    two_open(page)
    open_on(page, "")
    offered = page.locator("[data-open-name]")
    assert sorted(offered.all_inner_texts()) == ["FV 1", "FV 2"]
    expect(hand.step(page)).to_have_count(0)


def test_with_a_port_open_no_other_purge_begins(page):
    two_open(page)
    cellar.keep(page, page.served, cellar.walked(shortest(LATEST, "flowing"), "FV 2", readings=READ))
    open_on(page, f"#tank={cellar.id_of('FV 3')}")
    expect(hand.step(page).locator("[data-port-open]")).to_be_visible()
    expect(hand.step(page).locator("[data-event=begin]")).to_be_hidden()


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
def test_the_tanks_name_is_the_largest_text_on_every_step(size, phone, served):
    at = Phone(phone, served, size)
    at.open(f"go-on={at.purge['id']}")
    for state in STATES:
        at.put_on(shortest(LATEST, state), {})
        found = at.page.evaluate(TEXT_SIZES)
        (largest, text, is_shown), sizes = found["name"], found["sizes"]
        assert (text, is_shown) == ("FV 1", True), state
        # a clock's digits are read at arm's length and are no words
        assert [what for px, what, is_clock in sizes if px >= largest and not is_clock] == [], state


def test_leaving_asks_once_and_can_be_had_back_from_the_record(page):
    purge, _ = two_open(page)
    open_on(page, "")
    mine = page.locator(".open-purge").filter(has_text="FV 1")
    mine.locator("[data-leave]").click()
    expect(mine.locator("[data-leave-yes]")).to_be_visible()
    hand.wait(page, hand.LOOK)
    mine.locator("[data-leave-no]").click()
    expect(mine.locator("[data-leave-yes]")).to_be_hidden()
    expect(page.locator(".open-purge")).to_have_count(2)
    mine.locator("[data-leave]").click()
    hand.wait(page, hand.LOOK)
    mine.locator("[data-leave-yes]").click()
    expect(page.locator(".open-purge")).to_have_count(1)
    bodies = {body["tank_name"]: body for body in cellar.kept(page, page.served)}
    assert "open" not in bodies["FV 1"] and bodies["FV 2"]["open"] == 1
    assert bodies["FV 1"]["events"] == purge["body"]["events"]
    page.goto(f"{page.served.address}record/entry/#id={purge['id']}")
    page.get_by_role("button", name="Go on with it").click()
    page.locator("[data-purge][data-ready]").wait_for()
    expect(heading(page)).to_have_text("FV 1")
    expect(hand.step(page)).to_have_attribute("data-step", "gate-glass")
    assert all(body["open"] == 1 for body in cellar.kept(page, page.served))


def test_what_is_finished_offers_no_going_on(page):
    done = cellar.walked(shortest(LATEST, LAST), "FV 1", readings=READ)
    del done["body"]["open"]
    cellar.keep(page, page.served, cellar.tank("FV 1"), done)
    page.goto(f"{page.served.address}record/entry/#id={done['id']}")
    expect(page.locator("main[data-ready]")).to_be_attached()
    expect(page.locator("[data-go-on]")).to_be_hidden()


def test_the_hand_stands_in_the_entry(page):
    cellar.keep(page, page.served, cellar.tank("FV 1"))
    open_on(page, f"#tank={cellar.id_of('FV 1')}")
    page.get_by_label("Who is at the tank?").fill("AB")
    hand.walk(page, ["begin"])
    (body,) = cellar.kept(page, page.served)
    assert body["initials"] == "AB" and body["events"][0]["data"] == {"by": "AB"}
    # another hand takes over on the same phone: the check begins again, under its name
    page.goto(f"{page.served.address}purge/?new#tank={cellar.id_of('FV 1')}")
    page.locator("[data-purge][data-ready]").wait_for()
    hand.walk(page, ["all-there"])
    page.evaluate(
        'async (url) => (await import(url)).take("browser/storage/settings.js").saveSettings({ initials: "CD" })',
        page.served.script,
    )
    hand.look(page)
    hand.step(page).locator("[data-event=across]").click()
    expect(hand.step(page)).to_have_attribute("data-step", "ready")
    (body,) = cellar.kept(page, page.served)
    assert body["events"][-1]["event"] == "aged" and body["events"][-1]["data"] == {"by": "CD"}
    (id,) = page.evaluate(
        'async (url) => (await (await import(url)).take("browser/storage/record.js").idsOfKind("purge"))',
        page.served.script,
    )
    page.goto(f"{page.served.address}record/entry/#id={id}")
    expect(page.locator("[data-when]")).to_contain_text("AB")
    page.get_by_text("Every step, with its time").click()
    expect(page.locator("[data-events] li").last).to_contain_text("CD")
