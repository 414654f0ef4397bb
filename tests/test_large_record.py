"""What is written can be read: a record too large for one file goes out in several, and each of them comes back."""

import json
import time

import pytest
from browsers import PHONE
from playwright.sync_api import expect
from tankfoot.cli import main
from tankfoot.office.check import check_file
from tankfoot.office.transfer import LARGEST, PART
from test_import import HERE
from test_record import open_record

pytestmark = pytest.mark.alone

LONGEST_NOTES = 100_000  # characters: docs/formats.md
WITHIN = 1_200_000  # ms
# As many at a time as any browser takes in one transaction.
FILL = """async ([purge, count, notes]) => {
  const database = await new Promise((resolve) => {
    indexedDB.open("tankfoot").onsuccess = ({ target }) => resolve(target.result);
  });
  for (let made = 0; made < count; made += 1000) {
    const transaction = database.transaction("entries", "readwrite");
    for (let n = made; n < Math.min(made + 1000, count); n += 1) {
      const created = new Date(Date.parse(purge.created) + n * 6e5).toISOString();
      const body = { ...purge.body, notes: "n".repeat(notes) };
      transaction.objectStore("entries").put({ ...purge, id: crypto.randomUUID(), created, edited: created, body });
    }
    await new Promise((resolve, reject) => { transaction.oncomplete = resolve; transaction.onabort = reject; });
  }
  database.close();
}"""
COUNT = """() => new Promise((resolve) => {
  indexedDB.open("tankfoot").onsuccess = ({ target: { result } }) => {
    result.transaction("entries").objectStore("entries").count().onsuccess = ({ target }) => resolve(target.result);
  };
})"""


@pytest.fixture
def count(pytestconfig):
    return pytestconfig.getoption("purges")


def exported(page, folder):
    """The files that an export makes, each saved by a tap, as a person does it."""
    page.get_by_role("button", name="Export all").click()
    links = page.locator("[data-files-say] a[download]")
    expect(links.first).to_be_visible(timeout=WITHIN)
    expect(page.locator("[data-files-say] p")).to_contain_text("files")
    files = []
    for number in range(links.count()):
        with page.expect_download() as download:
            links.nth(number).click()
        files.append(folder / download.value.suggested_filename)
        download.value.save_as(files[-1])
    return files


def test_a_record_too_large_for_one_file_is_exported_checked_and_imported(
    phone, chromium, served, tmp_path, count, tell
):
    page = open_record(phone, served)
    notes = min(LONGEST_NOTES, PART * 12 // 10 // count)
    page.evaluate(FILL, [HERE, count, notes])
    begun = time.monotonic()
    files = exported(page, tmp_path)
    took = [time.monotonic() - begun]
    sizes = [file.stat().st_size for file in files]
    assert len(files) == len({file.name for file in files}) > 1
    assert max(sizes) <= PART + 1000 < LARGEST
    ids = set()
    for file in files:
        contents = check_file(file)
        assert contents.problems == []
        ids |= {entry["id"] for entry in contents.entries}
    assert len(ids) == count

    other = chromium.new_context(**PHONE, service_workers="block")
    theirs = open_record(other, served)
    begun = time.monotonic()
    theirs.locator("[data-import]").set_input_files(files)
    expect(theirs.locator("[data-plan-says]")).to_have_text(f"{count:,} new: added", timeout=WITHIN)
    theirs.locator("[data-write]").click()
    expect(theirs.locator("[data-files-say]")).to_have_text(f"Imported: {count:,} entries.", timeout=WITHIN)
    took.append(time.monotonic() - begun)
    assert theirs.evaluate(COUNT) == count
    other.close()
    size = f"{sum(sizes) / 1e6:.0f} MB in {len(files)} files"
    tell(f"{count} purges, {size}: export {took[0]:.0f} s, import {took[1]:.0f} s")


def test_check_reads_several_files_and_says_which_is_wrong(tmp_path, capsys):
    whole, cut = tmp_path / "1.json", tmp_path / "2.json"
    whole.write_text(json.dumps({}), encoding="utf-8")
    cut.write_text("{", encoding="utf-8")
    assert main(["check", str(whole), str(cut), str(tmp_path / "none.json")]) == 2
    said = capsys.readouterr().err.splitlines()
    assert [line.startswith(str(file)) for line, file in zip(said, (whole, cut, tmp_path / "none.json"), strict=True)]


def test_of_several_files_the_one_that_is_wrong_is_named(phone, served):
    page = open_record(phone, served)
    page.locator("[data-import]").set_input_files([
        {"name": "one.json", "mimeType": "application/json", "buffer": b"{"},
        {"name": "two.json", "mimeType": "application/json", "buffer": b"{}"},
    ])
    lines = page.locator("[data-plan-says] li")
    expect(lines).to_have_count(3)
    expect(lines.nth(1)).to_contain_text("one.json: The file is not JSON")
    expect(lines.nth(2)).to_contain_text("two.json: The file is not an export")
