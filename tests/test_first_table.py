"""Purges of schema version 1 on the phone: they open, go on by their own table, and their file checks."""

import json

import cellar
import hand
import pytest
from playwright.sync_api import expect
from records import version_1
from tankfoot.cli import main
from tankfoot.purge.machine import FIRST, LAST, state_after, tables
from test_purge_table import roads, shortest
from test_record import READ as ALL
from test_second_taps import READ

OLD = tables()["1"]
# The store as the app made it before the second table: version 2 of the database, entries of schema version 1.
SECOND_DATABASE = """entries => new Promise((resolve, reject) => {
  const request = indexedDB.open("tankfoot", 2);
  request.onupgradeneeded = () => {
    const store = request.result.createObjectStore("entries", { keyPath: "id" });
    store.createIndex("kind", "kind");
    store.createIndex("tank", "body.tank");
    store.createIndex("open", "body.open");
    store.createIndex("by-day", ["kind", "created"]);
    store.createIndex("of-tank-by-day", ["kind", "body.tank", "created"]);
    for (const entry of entries) store.put(entry);
  };
  request.onsuccess = () => { request.result.close(); resolve(); };
  request.onerror = () => reject(request.error);
})"""
ADDED = {"purge": ("table", "initials"), "tank": ("stack", "cap_way")}  # in schema version 2: docs/formats.md


def as_version_1(entry):
    """The entry as schema version 1 wrote it."""
    body = {name: value for name, value in entry["body"].items() if name not in ADDED.get(entry["kind"], ())}
    return entry | {"body": body}


def old_purge(state, of=None):
    return cellar.walked(shortest("1", state), of, table="1", readings=READ)


@pytest.fixture
def page(phone, served):
    page = phone.new_page()
    hand.hurry(page).goto(f"{served.address}tankfoot.webmanifest")  # of the same site, and opens no database
    page.served = served
    errors = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    yield page
    # this phone keeps no file of the app, so that there is no worker to be asked for
    assert [error for error in errors if "'installing'" not in error] == []


def put(page, *entries):
    page.evaluate(SECOND_DATABASE, list(entries))


def open_purge(page, purge):
    page.goto(f"{page.served.address}purge/?{purge['id']}#go-on={purge['id']}")
    page.locator("[data-purge][data-ready]").wait_for()


def buttons(page):
    shown = hand.step(page).locator("[data-event]:visible")
    return set(shown.evaluate_all("(all) => all.map((one) => one.dataset.event)"))


def test_every_purge_of_the_old_database_opens_where_it_was_and_has_the_answers_of_its_table(page):
    purges = {state: old_purge(state, "FV 1") for state in OLD if state not in (FIRST, LAST)}
    put(page, as_version_1(cellar.tank("FV 1")), *map(as_version_1, purges.values()))
    for state, purge in purges.items():
        open_purge(page, purge)
        expect(hand.step(page)).to_have_attribute("data-step", state)
        for fold in hand.step(page).locator("details").all():
            fold.evaluate("fold => { fold.open = true; }")
        if hand.step(page).locator("[data-stack-usual]").is_visible():
            hand.step(page).locator("[data-stack-usual]").click()
        # the answer that leads on is there, whatever else the page asks today; beside an open port no other is opened
        first = next(iter(OLD[state].events))
        if first != "opened":
            expect(hand.step(page).locator(f"[data-event={first}]").first).to_be_visible()
        assert buttons(page) <= set(roads("1", state)), state
    stored = {entry["id"]: entry["body"] for entry in page.evaluate(ALL) if entry["kind"] == "purge"}
    for state, purge in purges.items():
        body = stored[purge["id"]]
        assert (body["table"], body["initials"], body["state"]) == ("1", None, state)
        assert state_after(body["events"], "1") == state


def test_an_unfinished_purge_of_the_old_database_is_walked_to_its_end_and_checks(page, tmp_path, capsys):
    purge = old_purge("ready", "FV 1")
    finished = old_purge(LAST, "FV 1")
    del finished["body"]["open"]
    put(page, as_version_1(cellar.tank("FV 1")), *map(as_version_1, (purge, finished)))
    open_purge(page, purge)
    hand.walk(page, ["all-there", "wet", "time-over", "at-pressure", "gas-shut", "fits", "hooked-up", "opened",
                     "colour-change", "closed", "read", "seen", "shut", "let-out", "within-reach", "tank-side",
                     "understood", "outer", "apart", "rinsed", "capped", "topped-up", "save"])
    assert hand.state(page) == LAST
    (body,) = [entry["body"] for entry in page.evaluate(ALL) if entry["id"] == purge["id"]]
    assert body["table"] == "1" and "open" not in body
    assert state_after(body["events"], "1") == LAST
    assert body["result"]["volume_lost"]["value"] > 0
    page.goto(f"{page.served.address}record/")
    expect(page.locator("main[data-ready]")).to_be_attached()
    expect(page.locator("[data-list] li")).to_have_count(2)
    with page.expect_download() as download:
        page.get_by_role("button", name="Export all").click()
    file = tmp_path / "export.json"
    download.value.save_as(file)
    (again,) = [entry for entry in json.loads(file.read_text("utf-8"))["entries"] if entry["id"] == purge["id"]]
    assert again["body"] == body
    main(["check", str(file)])
    told = capsys.readouterr()
    assert purge["id"] not in told.err + told.out, told.err + told.out


def test_the_kept_file_of_version_1_opens_entry_by_entry(page):
    put(page, *version_1()["entries"])
    finished, unfinished = [entry for entry in version_1()["entries"] if entry["kind"] == "purge"]
    for purge in (finished, unfinished):
        page.goto(f"{page.served.address}record/entry/?{purge['id']}#id={purge['id']}")
        expect(page.locator("main[data-ready]")).to_be_attached()
        expect(page.locator("[data-whole]")).to_be_visible()
        expect(page.locator("[data-events] li")).to_have_count(len(purge["body"]["events"]))
    open_purge(page, unfinished)
    expect(hand.step(page)).to_have_attribute("data-step", unfinished["body"]["state"])
    # a fact is saved whatever stands before it
    hand.tap(page, "closed")
    expect(hand.step(page)).to_have_attribute("data-step", "after")


def test_an_old_check_of_the_first_table_grows_old_too(page):
    purge = old_purge("gate-clamp", "FV 1")
    put(page, as_version_1(cellar.tank("FV 1")), as_version_1(purge))
    open_purge(page, purge)
    expect(hand.step(page)).to_have_attribute("data-step", "gate-clamp")
    page.clock.fast_forward(31 * 60 * 1000)
    expect(hand.step(page)).to_have_attribute("data-step", "gate-valve")
