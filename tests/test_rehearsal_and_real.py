"""A rehearsal beside a real purge on the frozen site: none begins, one under way says it, and nothing mixes them up."""

import cellar
import hand
import pytest
from playwright.sync_api import expect
from test_rehearsal_screens import SMALL, run

OPENED = (*hand.TAPS[: hand.TAPS.index("opened")], "opened")
OPEN_SAYS = "The port of FV 3 is open. Close it first."
BEGUN_SAYS = "A purge of FV 3 is not finished. Finish it first."
NONE_KEPT = 'async (url) => (await import(url)).take("browser/storage/rehearsal.js").keptRehearsal()'


@pytest.fixture
def page(phone, served):
    page = hand.hurry(phone.new_page())
    page.goto(served.address)
    return page


def keep(page, served, names, **more):
    now = cellar.moment(page.evaluate("Date.now()"))
    made = cellar.walked(names, "FV 3", now=now) | more
    cellar.keep(page, served, cellar.tank("FV 3"), made)
    return made


def close(page, served, made):
    cellar.keep(page, served, made | {"body": {each: made["body"][each] for each in made["body"] if each != "open"}})


def to_the_list(page, served):
    page.goto(f"{served.address}rehearsal/")
    page.locator("[data-rehearsals][data-ready]").wait_for()


@pytest.mark.parametrize("names, says", [(OPENED, OPEN_SAYS), (("begin",), BEGUN_SAYS)])
def test_beside_a_real_purge_no_rehearsal_begins_and_the_list_says_why(page, served, names, says):
    made = keep(page, served, names)
    to_the_list(page, served)
    expect(page.locator("[data-real]")).to_contain_text(says)
    expect(page.locator("[data-real] a")).to_have_attribute("href", f"{served.address}purge/#go-on={made['id']}")
    expect(page.locator("[data-scenario=plain-trub]")).to_contain_text("A first purge")  # to read, not to tap
    assert page.locator("a[data-scenario]:any-link").count() == 0
    page.goto(f"{served.address}rehearsal/run/#scenario=plain-trub&anew")
    page.locator("[data-rehearsals][data-ready]").wait_for()
    expect(page.locator("[data-real]")).to_contain_text(says)
    assert page.evaluate(NONE_KEPT, served.script) is None


def test_once_the_real_purge_is_over_a_rehearsal_begins(page, served):
    made = keep(page, served, OPENED)
    to_the_list(page, served)
    close(page, served, made)
    page.reload()
    page.locator("[data-rehearsals][data-ready]").wait_for()
    expect(page.locator("[data-real]")).to_be_hidden()
    page.locator("[data-scenario=plain-trub]").click()
    page.locator("[data-purge][data-ready]").wait_for()


def test_a_purge_of_the_invented_brewery_is_no_real_one(page, served):
    keep(page, served, OPENED, demo=True)
    to_the_list(page, served)
    expect(page.locator("[data-real]")).to_be_hidden()
    assert page.locator("a[data-scenario]:any-link").count() > 12


@pytest.mark.parametrize("names, says", [(OPENED, OPEN_SAYS), (("begin",), BEGUN_SAYS)])
def test_a_rehearsal_under_way_stays_and_says_that_a_real_purge_began(page, served, names, says):
    to_the_list(page, served)
    page.locator("[data-scenario=plain-trub]").click()
    page.locator("[data-purge][data-ready]").wait_for()
    page.set_viewport_size(SMALL)
    expect(page.locator("[data-real]")).to_be_hidden()
    other = page.context.new_page()
    other.goto(served.address)
    made = keep(other, served, names)
    run(page, 6)
    place = page.locator("[data-real]")
    expect(place).to_contain_text("This is the rehearsal.")
    expect(place).to_contain_text(says)
    expect(place).to_be_in_viewport(ratio=0.9)
    assert hand.state(page) == "choose"
    page.reload()
    page.locator("[data-purge][data-ready]").wait_for()
    expect(place).to_contain_text(says)
    close(other, served, made)
    run(page, 6)
    expect(place).to_be_hidden()
