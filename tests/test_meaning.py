"""What is right in shape and means nothing is refused alike, and a stored one breaks no page and hides no other."""

import json

import cellar
import pytest
from playwright.sync_api import expect
from records import CURRENT, VERSION_1, current, sealed
from tankfoot.office.check import check_file
from tankfoot.office.entry_check import entry_problems
from tankfoot.office.transfer import read_file
from tankfoot.wording import file_sentence
from test_demo import RECORD
from test_record import WRITE, ready

BEGUN = ["begin", "all-there"]
BLOCKED = "reading 'installing'"  # where the tests' browser blocks the worker, its registration is nothing


def tank(name, **more):
    return cellar.tank(name, **more)


def purge(name, **more):
    """An unfinished purge of FV 1 that is called ``name``."""
    made = cellar.walked(BEGUN, "FV 1")
    return made | {"id": cellar.id_of(name), "body": made["body"] | {"tank_name": name} | more}


# Each with where it is wrong, and a part of what is said of it.
WRONG = {
    "no events": (purge("no events", events=[]), "body.events", "must not be empty"),
    "no such step": (purge("no such step", state="nowhere"), "body.state", "is no step of table 2"),
    "JavaScript's as a step": (purge("JavaScript's as a step", state="constructor"), "body.state", "is no step"),
    "a step of another table": (purge("a step of another table", table="1", state="feed"), "body.state", "of table 1"),
    "no such table": (purge("no such table", table="7"), "body.table", "Update the app"),
    "JavaScript's as a table": (purge("JavaScript's as a table", table="constructor"), "body.table", "is no table"),
    "no quantity": (purge("no quantity", readings={"flow": "much"}), "body.readings.flow", "in one of gal/min"),
    "another unit": (purge("another unit", readings={"flow": "3 psi"}), "body.readings.flow", "in one of gal/min"),
    "no reading": (purge("no reading", readings={"flow": "1e99 gal/min"}), "body.readings.flow", "must be a quantity"),
    "nobody's initials": (purge("nobody's initials", events=[{"at": cellar.MADE, "state": "choose", "event": "begin",
                          "data": {"by": {}}}]), "body.events[0].data.by", "a text of"),
    "full": (tank("full", beer_volume=120.0), "body.beer_volume", "is more beer than the tank holds"),
    "a needle": (tank("a needle", cone_angle=5e-324), "body", "make no vessel"),
    "no valve": (tank("no valve", stack=["clamp", "hose"]), "body.stack", "a butterfly valve"),
}
# Right, and yet no page may trust it further than its shape.
ODD = {
    "no contact time": purge("no contact time", state="contact"),
    "a huge reading": purge("a huge reading", state="result",
                            readings={"collected_volume": "1e6 bbl", "headspace": "9e5 bbl"}),
    "names of JavaScript": purge("names of JavaScript", readings={"constructor": "x", "toString": "y"}, events=[
        {"at": cellar.MADE, "state": "constructor", "event": "constructor"}]),
    "a purge for a tank": purge("a purge for a tank", tank=cellar.id_of("no contact time"), photo=cellar.id_of("FV 1")),
    "a bare tank": tank("a bare tank") | {"deleted": True, "body": {}},
    "of a bare tank": purge("of a bare tank", tank=cellar.id_of("a bare tank")),
}
BARE_LIST = cellar.id_of("a bare list")
RUN = cellar.entry("list-run", cellar.id_of("a run"), cellar.MADE, {
    "checklist": BARE_LIST, "version": "0" * 8, "started": cellar.MADE, "finished": None,
    "events": [{"line": "a-line", "at": cellar.MADE, "done": False, "reason": "none here"}],
})
LISTS = [
    {**cellar.entry("site-list", BARE_LIST, cellar.MADE, {"list": {}}), "deleted": True,
     "history": [{"edited": cellar.MADE, "body": {"version": "0" * 8}}]},
    RUN, RUN | {"id": cellar.id_of("another"), "body": RUN["body"] | {"checklist": "constructor"}},
]


def file_with(*entries):
    return json.dumps(sealed(current() | {"entries": list(entries)}))


@pytest.mark.parametrize("name", WRONG)
def test_an_entry_without_meaning_is_refused_and_it_is_said_where(name):
    entry, where, says = WRONG[name]
    found = read_file(file_with(entry, tank("FV 1")))
    assert [each["body"]["name"] for each in found.entries] == ["FV 1"]
    assert [problem.where for problem in found.problems] == [f"entries[0].{where}"]
    assert says in file_sentence(found.problems[0])


@pytest.mark.parametrize("entry", ODD.values(), ids=ODD)
def test_what_may_have_been_so_is_taken_in(entry):
    assert read_file(file_with(entry)).problems == []


@pytest.mark.parametrize("path", [VERSION_1, CURRENT, RECORD], ids=lambda path: path.name)
def test_every_file_that_was_ever_written_is_taken_in(path):
    assert check_file(path).problems == []


def test_what_a_correction_replaced_is_no_reason_to_refuse_an_entry():
    entry = tank("FV 1") | {"history": [{"edited": cellar.MADE, "body": WRONG["full"][0]["body"]}]}
    assert entry_problems(entry) == []
    assert entry_problems(WRONG["full"][0] | {"deleted": True}) == []


@pytest.fixture
def page(phone, served):
    """A record that holds all of them, and a tank and a purge that are right; nothing may be thrown on a page."""
    page = phone.new_page()
    page.served, thrown = served, []
    page.on("pageerror", lambda error: thrown.append(f"{page.url}: {error}"))
    ready_at(page, "record/")
    wrong = [entry for entry, _, _ in WRONG.values()]
    page.evaluate(WRITE, [*wrong, *ODD.values(), *LISTS, tank("FV 1", purge_every=3600.0), purge("a good one")])
    yield page
    assert [each for each in thrown if BLOCKED not in each] == []


def ready_at(page, address):
    page.goto(page.served.address)
    page.goto(f"{page.served.address}{address}")
    return ready(page)


def test_a_stored_entry_without_meaning_is_damaged_on_its_page_and_hides_no_other(page):
    ready_at(page, "record/")
    rows = page.locator("[data-list] li")
    texts = rows.all_text_contents()
    for name, (entry, _, says) in WRONG.items():
        assert any(name in text and "Damaged" in text for text in texts), (name, texts)
        ready_at(page, f"record/entry/#id={entry['id']}")
        expect(page.locator("[data-damage]")).to_contain_text(says)
    for name in ("a good one", "no contact time", "of a bare tank"):
        assert any(name in text and "Damaged" not in text for text in texts), name


@pytest.mark.parametrize(("address", "good"), [
    ("", "a good one"), ("tanks/", "FV 1"), ("purge/", "a good one"), ("purge/#tank=x", "FV 1"),
    ("checklists/", "purge"),
])
def test_no_page_breaks_on_entries_without_meaning(address, good, page):
    ready_at(page, address)
    expect(page.locator("main")).to_contain_text(good)


@pytest.mark.parametrize("name", [name for name in ODD if name != "a bare tank"])
def test_an_odd_purge_is_shown_and_gone_on_with(name, page):
    ready_at(page, f"purge/#go-on={ODD[name]['id']}")
    expect(page.locator("[data-step]:visible")).to_have_attribute("data-step", ODD[name]["body"]["state"])
    page.clock.install()
    page.clock.run_for(500)
    ready_at(page, f"record/entry/#id={ODD[name]['id']}")
    expect(page.locator("[data-whole]")).to_be_visible()


def test_the_runs_of_a_list_that_left_nothing_behind_are_told(page):
    ready_at(page, "record/")
    page.locator("[data-lists] summary").click()
    expect(page.locator("[data-lists] li")).to_have_count(2)
    expect(page.locator("[data-lists] ul")).to_contain_text("constructor")
    ready_at(page, f"checklists/#deleted={BARE_LIST}")
    expect(page.locator("[data-undo]")).to_be_hidden()


# What asks for an entry, the kind that it does not ask for, and what it says then.
OTHER_KINDS = {
    "tanks/tank/": ("no contact time", "That tank is not on this phone"),
    "checklists/own/": ("FV 1", "There is no such list on this phone."),
    "checklists/own/edit/": ("FV 1", "was deleted"),
    "record/entry/": ("FV 1", "There is no such purge"),
}


@pytest.mark.parametrize("address", OTHER_KINDS)
def test_an_id_of_another_kind_in_the_address_is_said(address, page):
    name, says = OTHER_KINDS[address]
    page.goto(page.served.address)
    page.goto(f"{page.served.address}{address}#id={cellar.id_of(name)}")
    expect(page.get_by_text(says)).to_be_visible()


def test_a_purge_goes_on_to_no_entry_of_another_kind(page):
    for address in (f"go-on={cellar.id_of('FV 1')}", f"tank={cellar.id_of('no contact time')}"):
        ready_at(page, f"purge/#{address}")
        expect(page.locator("[data-step]:visible, [data-resume]:visible").first).to_be_visible()
