"""The language is switched in the middle of a purge, of a list, of a rehearsal: no tap is lost, and no clock stops."""

import hand
import pytest
from browsers import PHONE
from playwright.sync_api import expect
from tankfoot.checklists import checklists, versions
from tankfoot.wording import words
from test_own_lists import opened
from test_record import READ
from test_rehearsal_screens import walk as rehearse

OTHER = {"en": "es", "es": "en"}
TITLES = {language: words("purge_steps", language) for language in OTHER}
AWAY = 20  # s that go by at the clock while the language is switched
ALL = hand.TAPS_WITHOUT_A_TANK
STOPS = {  # after how many taps the language is switched: at a gate, while it runs, at the end
    "at the gate of the valve": ALL.index("shut"), "at the gate of the clamp": ALL.index("outer"),
    "while it runs": ALL.index("opened") + 1, "while beer runs": ALL.index("colour-change") + 1,
    "before it is saved": ALL.index("save"),
}
BOTH_AT_ONCE = """([event, language]) => {
  const step = [...document.querySelectorAll("[data-step]")].find((each) => each.checkVisibility());
  step.querySelector(`[data-event=${event}]`).click();
  document.querySelector(`[data-language=${language}]`).click();
}"""


@pytest.fixture(params=["en-US", "es-MX"])
def page(request, chromium, served):
    context = chromium.new_context(**PHONE, service_workers="block", locale=request.param)
    yield hand.open_purge(context.new_page(), served.address)
    context.close()


def language(page):
    return page.locator("html").get_attribute("lang")


def by_link(page, served):
    to = OTHER[language(page)]
    page.locator(f"[data-language={to}]").click()
    expect(page.locator(f"html[lang={to}]")).to_be_attached()


def by_settings(page, served):
    to = OTHER[language(page)]
    page.goto(f"{served.address}settings/")
    page.locator(f"[name=language][value={to}]").check()
    expect(page.locator(f"html[lang={to}]")).to_be_attached()
    page.goto(f"{served.address}purge/")


def taps_kept(page):
    """The events of the one purge that is in the record."""
    (body,) = kept(page, "purge")
    return [event["event"] for event in body["events"]]


def kept(page, kind):
    """What the record holds of a kind. The database is asked: no page takes a script of another language's site."""
    return [entry["body"] for entry in page.evaluate(READ) if entry["kind"] == kind]


def go_on(page):
    page.locator("[data-purge][data-ready]").wait_for()
    hand.go_on(page)


@pytest.mark.parametrize("switch", [by_link, by_settings])
@pytest.mark.parametrize("done", STOPS.values(), ids=STOPS)
def test_a_purge_goes_on_in_the_other_language_at_the_step_where_it_was(done, switch, page, served):
    hand.walk(page, ALL[:done])
    was, before = hand.state(page), language(page)
    page.clock.fast_forward(AWAY * 1000)
    switch(page, served)
    go_on(page)
    assert (hand.state(page), language(page)) == (was, OTHER[before])
    expect(hand.step(page).locator(".step").first).to_contain_text(TITLES[OTHER[before]][was]["title"])
    assert taps_kept(page) == list(ALL[:done])
    watch = hand.step(page).locator("[data-stopwatch]")
    if watch.count():
        page.clock.run_for(1000)
        minutes, seconds = map(int, watch.first.inner_text().split(":"))
        assert 60 * minutes + seconds >= AWAY
    hand.walk(page, ALL[done:])
    assert taps_kept(page) == list(ALL)


@pytest.mark.parametrize("event", ["begin", "all-there", "opened", "colour-change", "closed", "shut", "outer", "save"])
def test_a_tap_in_the_same_instant_as_the_switch_is_in_the_record(event, page, served):
    done = ALL.index(event)
    hand.walk(page, ALL[:done])
    hand.type_readings(page)
    hand.look(page)
    to = OTHER[language(page)]
    page.evaluate(BOTH_AT_ONCE, [event, to])
    expect(page.locator(f"html[lang={to}]")).to_be_attached()
    page.locator("[data-purge][data-ready]").wait_for()
    assert taps_kept(page) == list(ALL[: done + 1])


@pytest.mark.parametrize("name", ["before-opening-the-bottom-port", "cold-exposure"])
def test_a_run_of_a_list_goes_on_in_the_other_language(name, page, served):
    opened(page, served, f"checklists/{name}/")
    boxes = page.locator("[data-line]")
    for place in range(2):
        boxes.nth(place).check()
    before = language(page)
    by_link(page, served)
    page.locator("main[data-ready]").wait_for()
    assert language(page) == OTHER[before]
    for place in range(2):
        expect(boxes.nth(place)).to_be_checked()
    boxes.nth(2).check()
    by_link(page, served)
    page.locator("main[data-ready]").wait_for()
    for place in range(3):
        expect(boxes.nth(place)).to_be_checked()
    (run,) = kept(page, "list-run")
    ids = [line.id for line in checklists()[name].lines]
    assert [event["line"] for event in run["events"]] == ids[:3]
    assert run["version"] in versions(name)


def test_a_tick_in_the_same_instant_as_the_switch_is_in_the_record(page, served):
    opened(page, served, "checklists/cold-exposure/")
    to = OTHER[language(page)]
    page.evaluate("""(to) => {
      document.querySelector("[data-line]").click();
      document.querySelector(`[data-language=${to}]`).click();
    }""", to)
    expect(page.locator(f"html[lang={to}]")).to_be_attached()
    page.locator("main[data-ready]").wait_for()
    expect(page.locator("[data-line]").first).to_be_checked()


def test_a_log_knows_a_run_of_the_other_language_as_one_of_this_version(page, served):
    opened(page, served, "checklists/cold-exposure/")
    page.locator("#initials").fill("JD")
    for box in page.locator("[data-line]").all():
        box.check()
    expect(page.locator("[data-log] li")).to_have_count(1)
    by_link(page, served)
    page.locator("main[data-ready]").wait_for()
    finished = words("screens", language(page))["log"]["finished"].split("{run}")[1]
    expect(page.locator("[data-log] li")).to_contain_text(finished)
    (run,) = kept(page, "list-run")
    expect(page.locator("[data-log] li")).not_to_contain_text(run["version"])


def test_a_rehearsal_goes_on_in_the_other_language_and_its_tank_stands_as_it_stood(page, served):
    page.goto(f"{served.address}rehearsal/")
    page.locator("[data-rehearsals][data-ready]").wait_for()
    page.locator("[data-scenario=plain-trub]").click()
    page.locator("[data-purge][data-ready]").wait_for()
    rehearse(page, ["begin"])
    was, before = hand.state(page), language(page)
    by_link(page, served)
    page.locator("[data-purge][data-ready]").wait_for()
    assert (hand.state(page), language(page)) == (was, OTHER[before])
    expect(hand.step(page).locator(".step").first).to_contain_text(TITLES[OTHER[before]][was]["title"])
    rehearse(page, ["all-there"])
    assert hand.state(page) != was
    assert kept(page, "purge") == []
