"""A file comes into the record: nothing that is newer is undone, nothing goes wrong without a word."""

import json

import pytest
from playwright.sync_api import expect
from records import sealed
from tankfoot.office.check import check_file
from tankfoot.wording import file_sentence
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


@pytest.fixture
def unthrown(page):
    """Fails the test where anything was thrown and not caught."""
    thrown = []
    page.on("pageerror", lambda error: thrown.append(error))
    yield
    assert thrown == []


def file_with(*entries):
    """An export file of another phone, as a person chooses it."""
    head = {"format": "tankfoot-record", "schema_version": 3, "app_version": "0", "made": HERE["edited"]}
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


# Source: The Unicode Standard, table 3-7: bytes that begin no character, a cut one, an overlong one, half a pair.
ILL_FORMED = [b"\xff", b"\xe2\x82", b"\xc0\xaf", b"\xed\xa0\x80"]


@pytest.mark.parametrize("ill", ILL_FORMED)
def test_bytes_that_are_no_text_are_refused_as_the_command_refuses_them(ill, page, tmp_path):
    content = file_with(edited_at("09:00:00", "from the file"))["buffer"].replace(b"from", ill)
    look_at(page, as_file(content))
    (tmp_path / "file.json").write_bytes(content)
    (problem,) = check_file(tmp_path / "file.json").problems
    told = ["1 problem: that entry is left out", file_sentence(problem)]
    expect(page.locator("[data-plan-says] li")).to_have_text(told)
    expect(page.locator("[data-write]")).to_be_hidden()


def test_a_byte_order_mark_is_overlooked_as_the_command_does(page):
    look_at(page, as_file(b"\xef\xbb\xbf" + file_with(HERE)["buffer"]))
    expect(page.locator("[data-plan-says] li")).to_have_text(["1 the same: nothing to do"])


# Source: File API (W3C), 6.5: reading a file that was moved, deleted or changed fails with one of these.
@pytest.mark.parametrize("name", ["NotFoundError", "NotReadableError"])
def test_a_file_that_is_gone_is_said(name, page, unthrown):
    page.evaluate("""(name) => {
      for (const way of ["text", "arrayBuffer", "stream"]) {
        Blob.prototype[way] = async () => { throw new DOMException("gone", name); };
      }
    }""", name)
    page.locator("[data-import]").set_input_files(file_with(HERE))
    expect(page.locator("[data-files-say]")).to_contain_text("cannot be read")
    expect(page.locator("[data-plan]")).to_be_hidden()


def test_a_file_that_is_gone_can_be_chosen_again(page):
    page.evaluate("""() => {
      const read = Blob.prototype.arrayBuffer;
      Blob.prototype.arrayBuffer = async () => {
        Blob.prototype.arrayBuffer = read;
        throw new DOMException("gone", "NotFoundError");
      };
    }""")
    page.locator("[data-import]").set_input_files(file_with(HERE))
    expect(page.locator("[data-files-say]")).to_contain_text("cannot be read")
    look_at(page, file_with(HERE))
    expect(page.locator("[data-files-say]")).to_be_empty()


def test_a_double_tap_on_import_writes_once(page, unthrown):
    look_at(page, file_with(edited_at("09:00:00", "from the file")))
    page.evaluate("() => { for (const _ of [1, 2, 3]) document.querySelector('[data-write]').click(); }")
    expect(page.locator("[data-files-say]")).to_have_text("Imported: 1 entry.")
    expect(page.locator("[data-plan]")).to_be_hidden()
    look_at(page, file_with(edited_at("10:00:00", "later")))
    page.locator("[data-write]").click()
    expect(page.locator("[data-files-say]")).to_have_text("Imported: 1 entry.")
    assert [entry["body"]["notes"] for entry in page.evaluate(READ)] == ["later"]
