"""Files of a large record: made and read while the page answers, told how far, stopped by a hand, right to the byte.

A task is measured on a machine that may be busy: it is held to twice the budget.
"""

import json

import pytest
from browsers import PHONE
from files_cost import BUDGET, LONGEST, finished, slowed
from playwright.sync_api import expect
from tankfoot.office.csv_export import purges_csv
from tankfoot.office.transfer import export_file
from test_large_record import COUNT, FILL
from test_record import READ, ready

pytestmark = pytest.mark.alone

ROOM = 2  # times the budget, for a machine that does other things too
WITHIN = 600_000  # ms
# What the bar shows, and how often.
BAR = """() => {
  window.shown = [];
  const bar = document.querySelector("[data-at-work] progress");
  new MutationObserver(() => { if (bar.hasAttribute("value")) shown.push(bar.value / bar.max); })
    .observe(bar, { attributes: true, attributeFilter: ["value"] });
}"""
# Once the bar has come so far: a hand stops the work, or the page goes.
STOP_AT = """([share, isGone]) => {
  const bar = document.querySelector("[data-at-work] progress");
  new MutationObserver((_, observer) => {
    if (bar.value / bar.max < share) return;
    observer.disconnect();
    if (isGone) location.reload();
    else document.querySelector("[data-stop]").click();
  }).observe(bar, { attributes: true, attributeFilter: ["value"] });
}"""
STOP_AT_ONCE = """(starter) => {
  document.querySelector(starter).click();
  document.querySelector("[data-stop]").click();
}"""


@pytest.fixture
def count(pytestconfig):
    return pytestconfig.getoption("entries")


@pytest.fixture
def page(phone, served, count):
    page = opened(phone, served)
    page.evaluate(FILL, [finished(), count, 0])
    page.reload()
    slowed(ready(page))
    return page


@pytest.fixture
def theirs(chromium, served):
    """Another phone, with an empty record."""
    context = chromium.new_context(**PHONE, service_workers="block")
    page = opened(context, served)
    slowed(page)
    yield page
    context.close()


def opened(context, served):
    page = context.new_page()
    page.set_default_timeout(WITHIN)
    page.goto(f"{served.address}record/")
    return ready(page)


def made(page, button):
    """The text that a tap on this button hands on."""
    with page.expect_download(timeout=WITHIN) as download:
        page.get_by_role("button", name=button).click()
    return download.value.path().read_bytes().decode()


@pytest.fixture
def file_with(tmp_path):
    """A file of this text, as a person chooses it: a text that the test hands into the page would keep that busy."""
    def written(text):
        (tmp_path / "other-phone.json").write_text(text, encoding="utf-8", newline="")
        return tmp_path / "other-phone.json"
    return written


def says(page):
    return page.locator("[data-files-say]")


def test_an_export_is_right_to_the_byte_and_keeps_no_tap_waiting(page, tell):
    page.evaluate(BAR)
    page.evaluate(LONGEST)
    text = made(page, "Export all")
    expect(page.locator("[data-at-work]")).to_be_hidden()
    longest, file = page.evaluate(LONGEST), json.loads(text)
    tell(f"export of {file['count']} entries: longest task {longest:.0f} ms (budget {BUDGET})")
    assert longest <= ROOM * BUDGET
    # Source: RFC 8785 and docs/formats.md, as the command writes them; the same entries, the same file.
    assert text == export_file(page.evaluate(READ), file["app_version"], file["made"])


def test_the_table_is_right_to_the_byte_and_keeps_no_tap_waiting(page, tell):
    zone = page.evaluate("Intl.DateTimeFormat().resolvedOptions().timeZone")
    page.evaluate(LONGEST)
    text = made(page, "Purges as a table")
    longest = page.evaluate(LONGEST)
    tell(f"table of {text.count(chr(10)) - 1} purges: longest task {longest:.0f} ms (budget {BUDGET})")
    assert longest <= ROOM * BUDGET
    # Source: RFC 4180 and docs/formats.md, as the command writes it.
    assert text == purges_csv(page.evaluate(READ), "us", zone)


def test_an_import_tells_how_far_it_is_and_keeps_no_tap_waiting(page, theirs, file_with, count, tell):
    text = made(page, "Export all")
    theirs.evaluate(BAR)
    theirs.evaluate(LONGEST)
    theirs.locator("[data-import]").set_input_files(file_with(text))
    expect(theirs.locator("[data-plan-says]")).to_have_text(f"{count:,} new: added", timeout=WITHIN)
    theirs.evaluate("shown.splice(0)")
    theirs.locator("[data-write]").click()
    expect(says(theirs)).to_have_text(f"Imported: {count:,} entries.", timeout=WITHIN)
    longest, shown = theirs.evaluate(LONGEST), theirs.evaluate("shown")
    tell(f"import of {count} entries: longest task {longest:.0f} ms (budget {BUDGET}), {len(shown)} steps of the bar")
    assert longest <= ROOM * BUDGET
    assert shown == sorted(shown)
    assert len(set(shown)) >= 3
    assert sorted(theirs.evaluate(READ), key=id_of) == sorted(page.evaluate(READ), key=id_of)
    assert theirs.locator("[data-list] li").count() > 0


@pytest.mark.parametrize("starter", ["[data-export]", "[data-csv]"])
def test_a_file_that_is_stopped_is_not_made_and_can_be_made_again(starter, page):
    handed = []
    page.on("download", lambda download: handed.append(download))
    page.evaluate(STOP_AT_ONCE, starter)
    expect(says(page)).to_have_text("Stopped: no file was made.")
    expect(page.locator(starter)).to_be_enabled()
    assert handed == []
    with page.expect_download(timeout=WITHIN):
        page.locator(starter).click()


def test_an_import_that_is_stopped_says_what_is_in_and_goes_on_with_the_rest(page, theirs, file_with, count):
    text = made(page, "Export all")
    theirs.locator("[data-import]").set_input_files(file_with(text))
    expect(theirs.locator("[data-plan]")).to_be_visible(timeout=WITHIN)
    theirs.evaluate(STOP_AT, [0.4, False])
    theirs.locator("[data-write]").click()
    expect(says(theirs)).to_contain_text("are in the record. Import again for the rest.", timeout=WITHIN)
    here = theirs.evaluate(COUNT)
    assert 0 < here < count
    expect(says(theirs)).to_have_text(f"Stopped: {here:,} entries are in the record. Import again for the rest.")
    expect(theirs.locator("[data-plan]")).to_be_hidden()
    expect(theirs.locator("[data-list] li").first).to_be_visible()
    theirs.locator("[data-import]").set_input_files(file_with(text))
    lines = theirs.locator("[data-plan-says] li")
    expect(lines).to_have_text([f"{count - here:,} new: added", f"{here:,} the same: nothing to do"], timeout=WITHIN)
    theirs.locator("[data-write]").click()
    expect(says(theirs)).to_have_text(f"Imported: {count - here:,} entries.", timeout=WITHIN)
    assert theirs.evaluate(COUNT) == count


def test_an_import_that_is_cut_short_has_brought_whole_entries_and_the_file_brings_the_rest(
    page, theirs, file_with, count
):
    text = made(page, "Export all")
    entries = {entry["id"]: entry for entry in json.loads(text)["entries"]}
    theirs.locator("[data-import]").set_input_files(file_with(text))
    expect(theirs.locator("[data-plan]")).to_be_visible(timeout=WITHIN)
    theirs.evaluate(STOP_AT, [0.4, True])
    with theirs.expect_navigation():
        theirs.locator("[data-write]").click()
    here = ready(theirs).evaluate(READ)
    assert 0 < len(here) < count
    assert all(entry == entries[entry["id"]] for entry in here)
    not_ended = "has not ended: a part may be in the record. If no window is at it, import again"
    expect(says(theirs)).to_contain_text(not_ended)
    theirs.locator("[data-import]").set_input_files(file_with(text))
    left = f"{count - len(here):,}"
    expect(theirs.locator("[data-plan-says] li").first).to_have_text(f"{left} new: added", timeout=WITHIN)
    theirs.locator("[data-write]").click()
    expect(says(theirs)).to_have_text(f"Imported: {left} entries.", timeout=WITHIN)
    theirs.reload()
    expect(says(ready(theirs))).to_have_text("")


def test_a_look_at_a_file_that_is_stopped_leaves_the_record_as_it_was(page, theirs, file_with):
    text = made(page, "Export all")
    theirs.evaluate("""() => {
      const [input, stop] = ["[data-import]", "[data-stop]"].map((what) => document.querySelector(what));
      input.addEventListener("change", () => stop.click());
    }""")
    theirs.locator("[data-import]").set_input_files(file_with(text))
    expect(says(theirs)).to_have_text("Stopped: nothing was imported.")
    expect(theirs.locator("[data-plan]")).to_be_hidden()
    assert theirs.evaluate(COUNT) == 0


def test_a_browser_without_threads_makes_and_reads_files_too(chromium, served, page, file_with, count):
    text = made(page, "Export all")
    context = chromium.new_context(**PHONE, service_workers="block")
    context.add_init_script("delete window.Worker;")
    plain = opened(context, served)
    plain.locator("[data-import]").set_input_files(file_with(text))
    expect(plain.locator("[data-plan-says]")).to_have_text(f"{count:,} new: added", timeout=WITHIN)
    plain.locator("[data-write]").click()
    expect(says(plain)).to_have_text(f"Imported: {count:,} entries.", timeout=WITHIN)
    again = json.loads(made(plain, "Export all"))
    assert again["sha256"] == json.loads(text)["sha256"]
    context.close()


def id_of(entry):
    return entry["id"]
