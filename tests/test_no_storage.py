"""Storage that fails: what is said stays said, nothing is thrown, and the emergency cards stand by themselves."""

import re

import hand
import pytest
from playwright.sync_api import expect
from test_record import READ, REAL, open_record, ready

# Source: HTML Living Standard, 12.2.2, and Indexed Database API 3.0 (W3C), 4.3: what a browser without storage throws;
# a web view of Android without DOM storage has null in its place.
WITHOUT = {
    "nothing is there": """
      Object.defineProperty(window, "indexedDB", { value: undefined });
      Object.defineProperty(window, "localStorage", { value: null });
      Object.defineProperty(window, "caches", { value: undefined });""",
    "everything is denied": """
      const denied = () => { throw new DOMException("denied", "SecurityError"); };
      IDBFactory.prototype.open = denied;
      ServiceWorkerContainer.prototype.register = async () => denied();
      Object.defineProperty(window, "localStorage", { get: denied });
      Object.defineProperty(window, "caches", { get: denied });""",
    "every write and read fails": """
      IDBDatabase.prototype.transaction = () => { throw new DOMException("broken", "UnknownError"); };""",
}
# The first of the page's reads fails, those after it go well.
FIRST_READ_FAILS = """
  const begin = IDBDatabase.prototype.transaction;
  window.begun = 0;
  IDBDatabase.prototype.transaction = function (...given) {
    if (given[0] === "entries") window.begun += 1;
    if (given[0] !== "entries" || begun > 2) return begin.apply(this, given);
    throw new DOMException("broken", "UnknownError");  // once, and when it is tried again
  };
"""


@pytest.fixture
def page(keeping_phone):
    """A page that fails its test where anything is thrown and not caught."""
    page, thrown = keeping_phone.new_page(), []
    page.on("pageerror", lambda error: thrown.append(error))
    yield page
    assert thrown == []


@pytest.mark.parametrize("how", WITHOUT)
def test_the_emergency_cards_need_no_storage_at_all(how, page, served):
    page.add_init_script(WITHOUT[how])
    for address in ("emergency/", "emergency/vacuum/"):
        page.goto(served.address + address)
        ready(page)
        page.wait_for_load_state("networkidle")
        # Source: 3GPP TS 22.101, 10.1: 112 reaches help on any mobile phone.
        expect(page.locator("[data-number]").first).to_have_attribute("href", "tel:112")


@pytest.mark.parametrize("address", ["", "record/", "tanks/"])
@pytest.mark.parametrize("how", WITHOUT)
def test_a_page_of_the_record_says_that_it_cannot_be_read(how, address, page, served):
    page.add_init_script(WITHOUT[how])
    page.goto(served.address + address)
    ready(page)
    expect(page.locator("[data-trouble]")).not_to_be_empty()


@pytest.mark.parametrize("how", WITHOUT)
def test_a_page_whose_entry_or_list_cannot_be_read_says_so_and_not_that_there_is_none(how, page, served):
    page.add_init_script(WITHOUT[how])
    asked = f"#id={REAL['id']}"
    for address in ("purge/", "checklists/", f"checklists/own/{asked}", f"checklists/own/edit/{asked}",
                    f"tanks/tank/{asked}", "checklists/before-breaking-a-clamp/"):
        page.goto(served.address + address)
        ready(page)
        told = page.locator("[data-trouble]").locator("visible=true")
        expect(told).to_contain_text(re.compile("keeps nothing|cannot be read"))
        none = page.locator("[data-missing], [data-gone], [data-no-own], [data-no-tanks]")
        assert none.locator("visible=true").count() == 0, address


def test_a_read_that_went_well_does_not_hide_one_that_did_not(page, served):
    page.add_init_script(FIRST_READ_FAILS)
    page.goto(f"{served.address}record/")
    ready(page)
    page.wait_for_function("() => begun > 2")
    expect(page.locator("[data-trouble]")).to_contain_text("cannot be read now")


def test_what_is_said_goes_once_the_hand_has_done_something_that_went_well(page, served):
    page.add_init_script(FIRST_READ_FAILS)
    page.goto(f"{served.address}record/")
    ready(page)
    expect(page.locator("[data-trouble]")).not_to_be_empty()
    with page.expect_download():
        page.get_by_role("button", name="Export all").click()
    expect(page.locator("[data-trouble]")).to_be_empty()


# Source: HTML Living Standard, createImageBitmap: InvalidStateError where the data is no picture that it supports.
def test_a_photo_that_no_browser_can_read_is_said_and_nothing_is_added(page, served):
    hand.open_purge(page, served.address)
    hand.walk(page, ["begin"])
    picture = {"name": "photo.heic", "mimeType": "image/heic", "buffer": b"\0\0\0\x18ftypheic" + bytes(64)}
    page.locator("input[data-photo]").set_input_files(picture)
    expect(page.locator("[data-trouble]")).to_contain_text("cannot read that picture")
    assert [entry["kind"] for entry in page.evaluate(READ)] == ["purge"]


def test_a_record_that_can_be_read_says_nothing(phone, served):
    page = open_record(phone, served)
    expect(page.locator("[data-trouble]")).to_be_empty()
