"""Storage that refuses, is full, lost or spoilt, and two windows at once: each is said, and nothing is undone."""

import copy
import json
import os
import re
from datetime import UTC, datetime, timedelta

import cellar
import hand
import pytest
from playwright.sync_api import expect
from records import sealed
from test_import import EDIT_FIRST
from test_record import READ, REAL, WRITE, ready

# Source: Indexed Database API 3.0 (W3C): what opening and writing throw, and when "blocked" is fired.
NO_STORAGE = {
    "undefined": "Object.defineProperty(window, 'indexedDB', { value: undefined })",
    "a security error": "IDBFactory.prototype.open = () => { throw new DOMException('denied', 'SecurityError') }",
}
HOLD = """
  const open = IDBFactory.prototype.open;
  window.connections = [];
  IDBFactory.prototype.open = function (...given) {
    const request = open.apply(this, given);
    request.addEventListener("success", () => window.connections.push(request.result));
    return request;
  };
"""
# A commit that fails for want of room aborts the transaction, whose error then is QuotaExceededError.
FULL = """() => {
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function () {
    const error = new DOMException("full", "QuotaExceededError");
    Object.defineProperty(this.transaction, "error", { value: error });
    this.transaction.abort();
  };
  window.emptied = () => { IDBObjectStore.prototype.put = put; };
}"""
NEVER = "IDBFactory.prototype.open = () => new EventTarget();"
OLD_VERSION = """() => new Promise((resolve, reject) => {
  const request = indexedDB.open("tankfoot", 1);
  request.onupgradeneeded = () => request.result.createObjectStore("entries", { keyPath: "id" });
  request.onsuccess = () => { window.held = request.result; resolve(); };
  request.onerror = () => reject(request.error);
})"""


BEFORE = ["begin", "all-there", "stack-hangs"]  # to hook up


@pytest.fixture
def purge(phone, served):
    page = hand.open_purge(phone.new_page(), served.address)
    hand.walk(page, BEFORE)
    return page


def trouble(page):
    return page.locator("[data-trouble]")


def events(page):
    return [[event["event"] for event in entry["body"]["events"]] for entry in page.evaluate(READ)]


def press(page, event):
    """A tap of which nobody knows whether the screen will move."""
    hand.look(page)
    hand.step(page).locator(f"[data-event={event}]").click()


@pytest.mark.parametrize("how", NO_STORAGE)
def test_a_browser_that_keeps_nothing_is_named_and_no_step_pretends(how, phone, served):
    phone.add_init_script(NO_STORAGE[how])
    page = hand.open_purge(phone.new_page(), served.address)
    expect(trouble(page)).to_contain_text("keeps nothing for Tankfoot")
    hand.type_readings(page)
    press(page, "begin")
    expect(trouble(page)).to_contain_text("allow this site's data")
    expect(trouble(page)).to_be_in_viewport()
    assert hand.state(page) == "choose"
    page.goto(f"{served.address}record/")
    expect(trouble(ready(page))).to_contain_text("keeps nothing for Tankfoot")
    expect(page.get_by_text("No purge yet.")).to_be_hidden()
    page.goto(f"{served.address}record/entry/#id=x")
    expect(trouble(ready(page))).to_contain_text("keeps nothing for Tankfoot")
    expect(page.locator("[data-missing]")).to_be_hidden()


def test_a_storage_that_never_answers_is_named(phone, served):
    phone.add_init_script(NEVER)
    page = phone.new_page()
    page.clock.install()
    page.goto(f"{served.address}record/")
    page.wait_for_function("() => document.querySelector('#of-tank').options.length === 0")
    page.clock.run_for(9000)
    expect(trouble(page)).to_contain_text("does not answer")


def test_a_full_phone_is_named_and_the_step_stays(purge):
    purge.evaluate(FULL)
    press(purge, "hooked-up")
    expect(trouble(purge)).to_contain_text("storage is full: nothing was saved")
    assert hand.state(purge) == "hookup"
    assert events(purge) == [BEFORE]
    purge.evaluate("() => emptied()")
    hand.tap(purge, "hooked-up")
    expect(trouble(purge)).to_be_empty()
    assert events(purge) == [[*BEFORE, "hooked-up"]]


def test_a_lost_connection_is_opened_again_and_the_tap_written(phone, served):
    phone.add_init_script(HOLD)
    page = hand.open_purge(phone.new_page(), served.address)
    hand.walk(page, ["begin"])
    page.evaluate("() => connections.at(-1).close()")
    hand.walk(page, ["all-there"])
    expect(trouble(page)).to_be_empty()
    assert events(page) == [["begin", "all-there"]]
    assert page.evaluate("() => connections.length") >= 2


def test_an_old_window_that_blocks_the_new_version_is_named_until_it_is_closed(phone, served):
    old = phone.new_page()
    old.goto(f"{served.address}tankfoot.webmanifest")  # of the same site, and opens no database
    old.evaluate(OLD_VERSION)
    page = phone.new_page()
    page.goto(f"{served.address}record/")
    expect(trouble(page)).to_contain_text("older version. Close it")


def test_a_newer_version_in_another_window_is_not_written_over(purge, phone, served):
    newer = phone.new_page()
    newer.goto(f"{served.address}about/")
    newer.evaluate("""() => new Promise((resolve, reject) => {
      const request = indexedDB.open("tankfoot", 99);
      request.onsuccess = () => { request.result.close(); resolve(); };
      request.onblocked = reject;
    })""")
    purge.bring_to_front()
    press(purge, "hooked-up")
    expect(trouble(purge)).to_contain_text("newer Tankfoot")
    assert events(newer) == [BEFORE]


def test_of_two_windows_that_begin_a_purge_at_the_same_moment_the_second_goes_on_with_the_first(phone, served):
    first, second = phone.new_page(), phone.new_page()
    first.goto(served.address)
    cellar.keep(first, served, cellar.tank("FV 1"), cellar.tank("FV 2"))
    cellar.keep(first, served, cellar.walked(["begin", "all-there"], "FV 2"))
    hand.open_purge(second, served.address, f"#tank={cellar.id_of('FV 1')}")
    hand.type_readings(second)
    begun = cellar.walked(["begin"], "FV 1", initials="AB")
    second.evaluate(EDIT_FIRST, begun)
    press(second, "begin")
    expect(hand.step(second)).to_have_attribute("data-step", "ready")
    expect(trouble(second)).to_contain_text("That purge goes on here")
    expect(trouble(second)).to_be_in_viewport()
    hand.walk(second, ["all-there"])
    expect(trouble(second)).to_be_empty()
    kept = [entry for entry in second.evaluate(READ) if entry["kind"] == "purge" and entry["id"] == begun["id"]]
    assert [[event["event"] for event in entry["body"]["events"]] for entry in kept] == [["begin", "all-there"]]
    assert len(cellar.kept(second, served)) == 2


def test_a_second_window_undoes_no_tap_of_the_first(purge, phone, served):
    second = hand.open_purge(phone.new_page(), served.address)
    hand.go_on(second)
    purge.bring_to_front()
    hand.walk(purge, ["hooked-up"])
    # The second window still shows the step before, as it stood when it was opened.
    assert hand.state(second) == "hookup"
    press(second, "hooked-up")
    expect(trouble(second)).to_contain_text("changed in another window")
    assert events(purge) == [[*BEFORE, "hooked-up"]]
    second.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    expect(hand.step(second)).to_have_attribute("data-step", "pressure")
    hand.walk(second, ["at-pressure"])
    assert events(purge) == [[*BEFORE, "hooked-up", "at-pressure"]]


def test_readings_still_on_their_way_do_not_undo_a_tap(purge):
    hand.walk(purge, ["hooked-up"])
    # Both at once, before either is on the disk: a reading leaves its field and the button is tapped.
    purge.evaluate("""() => {
      const step = document.querySelector("[data-step=pressure]");
      step.querySelector("details").open = true;
      step.querySelector("[data-why]").value = "No time";
      step.querySelector("[data-event=skip]").click();
      document.querySelector("[data-step=gas] [data-entry]").dispatchEvent(new Event("change"));
      document.querySelector("[data-step=gas] [data-entry]").dispatchEvent(new Event("change"));
    }""")
    expect(hand.step(purge)).to_have_attribute("data-step", "gas")
    purge.reload()
    purge.locator("[data-purge][data-ready]").wait_for()
    assert events(purge) == [[*BEFORE, "hooked-up", "skip"]]


def test_two_ticks_at_once_are_both_kept(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}checklists/before-breaking-a-clamp/")
    ready(page)
    lines = page.evaluate("""() => [...document.querySelectorAll("[data-line]:enabled")].slice(0, 3).map((box) => {
      box.click();
      return box.dataset.line;
    })""")
    assert len(lines) > 1
    expect(page.locator("[data-line]:checked")).to_have_count(len(lines))
    store = "browser/storage/record.js"
    page.evaluate("async ([url, store]) => (await import(url)).take(store).inTurn(() => null)", [served.script, store])
    (run,) = page.evaluate(READ)
    assert [event["line"] for event in run["body"]["events"]] == lines


def test_an_edit_is_later_than_the_one_before_even_if_the_clock_was_set_back(purge):
    (before,) = purge.evaluate(READ)
    purge.clock.set_fixed_time(datetime.now(UTC) - timedelta(days=1))
    hand.walk(purge, ["hooked-up"])
    (after,) = purge.evaluate(READ)
    # Otherwise a merge, where the newest edit wins, would take the older state for the newer one.
    assert after["edited"] > before["edited"]


def other(number, **changes):
    return copy.deepcopy(REAL) | {"id": f"6f1c1b0e-3a77-4f0e-9d64-{number:012x}"} | changes


SPOILT = {
    "no events": lambda body: body.pop("events"),
    "a result that is none": lambda body: body.update(result="gone"),
    "no body": lambda body: body.clear(),
}


@pytest.mark.parametrize("how", SPOILT)
def test_a_damaged_entry_is_named_exported_and_deleted_alone(how, phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}record/")
    ready(page)
    damaged = other(1)
    SPOILT[how](damaged["body"])
    page.evaluate(WRITE, [REAL, damaged])
    page.reload()
    rows = ready(page).locator("[data-list] li")
    expect(rows).to_have_count(2)
    expect(rows.filter(has_text="FV 9: Hops")).to_have_count(1)
    with page.expect_download() as download:
        page.get_by_role("button", name="Export all").click()
    # The file holds it as it is.
    assert damaged in json.loads(download.value.path().read_text(encoding="utf-8"))["entries"]
    page.locator("[data-files-say] a").click()
    expect(ready(page).locator("[data-damage]")).to_have_text(re.compile("body.*must be"))
    with page.expect_download() as download:
        page.get_by_role("button", name="Export it").click()
    assert json.loads(download.value.path().read_text(encoding="utf-8"))["entries"] == [damaged]
    page.locator("[data-damaged] summary").click()
    page.get_by_role("button", name="Delete it for good").click()
    page.wait_for_url("**/record/")
    expect(ready(page).locator("[data-list] li")).to_have_count(1)
    assert page.evaluate(READ) == [REAL]


def test_a_damaged_purge_or_tank_stops_no_other_page(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}record/")
    ready(page)
    tank = other(1, kind="tank", body={"cone_angle": 1})
    begun = other(2, body={"open": 1, "state": "ready"})
    page.evaluate(WRITE, [tank, begun])
    page.reload()
    expect(ready(page).locator("[data-list] li")).to_have_text([re.compile("Damaged")] * 2)
    for address in ("", "tanks/", "purge/"):
        page.goto(served.address + address)
        ready(page)
    hand.walk(page, ["begin"])


def test_a_healthy_copy_from_another_phone_mends_a_damaged_entry(phone, served, tmp_path):
    page = phone.new_page()
    page.goto(f"{served.address}record/")
    ready(page)
    page.evaluate(WRITE, [copy.deepcopy(REAL) | {"body": {}}])
    page.reload()
    bring(ready(page), [REAL], tmp_path)
    page.get_by_role("button", name="Import", exact=True).click()
    expect(page.get_by_text("Imported: 1 entry.")).to_be_visible()
    assert page.evaluate(READ) == [REAL]


def bring(page, entries, folder):
    head = {"format": "tankfoot-record", "schema_version": 3, "app_version": "0", "made": REAL["edited"]}
    file = folder / "other-phone.json"
    file.write_text(json.dumps(sealed(head | {"entries": entries})), encoding="utf-8")
    page.locator("[data-import]").set_input_files(file)
    expect(page.locator("[data-plan]")).to_be_visible()


@pytest.mark.parametrize(("ahead", "is_said"), [(timedelta(minutes=2), False), (timedelta(hours=1), True)])
def test_an_import_from_a_clock_that_is_ahead_says_so(ahead, is_said, phone, served, tmp_path):
    page = phone.new_page()
    page.goto(f"{served.address}record/")
    edited = (datetime.now(UTC) + ahead).strftime("%Y-%m-%dT%H:%M:%S.000Z")
    bring(ready(page), [REAL | {"edited": edited}], tmp_path)
    expect(page.get_by_text("changes from the future")).to_be_visible(visible=is_said)


def test_purges_without_a_tank_are_picked_out(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}record/")
    ready(page).get_by_role("button", name="Load the demo").click()
    expect(page.get_by_text("The demo is loaded.")).to_be_visible()
    page.evaluate(WRITE, [REAL])
    page.get_by_label("Tank", exact=True).select_option("Without a tank")
    expect(page.locator("[data-list] li")).to_have_count(1)
    expect(page.locator("[data-list] li")).to_contain_text("FV 9: Hops")


def test_a_photo_whose_file_the_phone_lost_takes_nothing_else_with_it(own_chromium, served, tmp_path):
    page = own_chromium.start().new_page()
    page.goto(f"{served.address}record/")
    ready(page)
    # Chromium keeps a value of more than 64 KiB in a file beside the store; random bytes, so that nothing packs them.
    photo = other(1, kind="photo", body={"type": "image/jpeg", "data": os.urandom(90000).hex()})
    page.evaluate(WRITE, [photo, REAL | {"body": REAL["body"] | {"photo": photo["id"]}}])
    own_chromium.close()
    (lost,) = [path for path in tmp_path.rglob("*.blob/*/*/*") if path.stat().st_size > 65536]
    lost.unlink()

    page = own_chromium.start().new_page()
    page.goto(f"{served.address}record/")
    ready(page).get_by_role("button", name="Export all").click()
    expect(page.locator("[data-files-say]")).to_contain_text("Damaged: an entry")
    page.locator("[data-list] a").click()
    page.wait_for_url("**/record/entry/#id=*")
    expect(ready(page).get_by_role("heading", level=1)).to_have_text("FV 9: Hops")
    expect(page.locator("[data-photo]")).to_be_hidden()
    expect(trouble(page)).to_be_empty()
