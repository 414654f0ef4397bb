"""A file comes into the record: nothing that is newer is undone, nothing goes wrong without a word."""

import json

import pytest
from playwright.sync_api import expect
from records import sealed
from test_record import READ, REAL, WRITE, open_record, ready

HERE = REAL | {"body": REAL["body"] | {"table": "1", "initials": None}}
# Source: Indexed Database API 3.0 (W3C), 2.7.2: read/write transactions of one store run in the order they were
# created. So this edit is on the disk just before the page's next write begins, as another window's may be.
EDIT_FIRST = """(entry) => {
  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (store, mode, ...more) {
    if (mode === "readwrite") begin.call(this, store, mode).objectStore("entries").put(entry);
    return begin.call(this, store, mode, ...more);
  };
}"""


@pytest.fixture
def page(phone, served):
    page = open_record(phone, served)
    page.evaluate(WRITE, [HERE])
    page.reload()
    return ready(page)


def file_with(*entries):
    """An export file of another phone, as a person chooses it."""
    head = {"format": "tankfoot-record", "schema_version": 2, "app_version": "0", "made": HERE["edited"]}
    return as_file(json.dumps(sealed(head | {"entries": list(entries)})).encode())


def as_file(content):
    return {"name": "other-phone.json", "mimeType": "application/json", "buffer": content}


def edited_at(time, notes):
    return HERE | {"edited": f"2026-07-01T{time}.000Z", "body": HERE["body"] | {"notes": notes}}


def look_at(page, file):
    page.locator("[data-import]").set_input_files(file)
    expect(page.locator("[data-plan]")).to_be_visible()


def test_an_edit_that_another_window_saved_after_the_look_stays(page):
    look_at(page, file_with(edited_at("09:00:00", "from the file")))
    newest = edited_at("10:00:00", "from the other window")
    page.evaluate(EDIT_FIRST, newest)
    page.locator("[data-write]").click()
    expect(page.locator("[data-files-say]")).to_have_text("Imported: 0 entries.")
    assert page.evaluate(READ) == [newest]


def test_an_edit_that_is_still_older_is_replaced(page):
    newest = edited_at("09:00:00", "from the file")
    look_at(page, file_with(newest))
    page.evaluate(EDIT_FIRST, edited_at("08:30:00", "from the other window"))
    page.locator("[data-write]").click()
    expect(page.locator("[data-files-say]")).to_have_text("Imported: 1 entry.")
    assert [entry["body"]["notes"] for entry in page.evaluate(READ)] == ["from the file"]
