"""The record's second copy: what was confirmed is put back when the database is gone, cut short or spoilt."""

import json
import random
import shutil
import threading

import cellar
import pytest
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import expect
from test_record import READ

PUT_BACK = 60_000  # ms, of hundreds of entries
LONGEST_LIFE = 1.0  # seconds of writing before the kill
MOST_FILES = 24  # as browser/storage/journal_worker.js has it
# Entries one after the other, each told in the console once it is confirmed.
WRITE = """async ([url, entries]) => {
  const { put } = (await import(url)).take("browser/storage/record.js");
  for (const entry of JSON.parse(entries)) {
    await put(entry);
    console.log(entry.id);
  }
}"""
LINES = """async ([url, lines]) => {
  const { lineOf, saidIn } = (await import(url)).take("browser/storage/journal_lines.js");
  const line = await lineOf({ at: 1, id: "a", version: 2, entry: { id: "a", edited: "", body: { name: "Käse 🍺" } } });
  const spoilt = [...line].map((_, place) => line.slice(0, place) + "~" + line.slice(place + 1));
  const cut = [...line].map((_, place) => line.slice(0, place));
  return [await saidIn(line), await Promise.all([...spoilt, ...cut].map(saidIn))];
}"""
# A page has no file that is written in step, so that it finds the folder in Cache storage.
CACHED = """async (url) => {
  const folder = await (await import(url)).take("browser/storage/journal_files.js").openFolder();
  for (const name of ["b", "a"]) {
    const write = await folder.writer(name);
    for (const text of ["1\\n", "2\\n", "3\\n"]) await write(name + text);
  }
  const read = async (name) => {
    let text = "";
    for await (const piece of folder.read(name)) text += piece;
    return text;
  };
  const before = [await folder.names(), await read("a"), await read("b")];
  await folder.remove("a");
  return [...before, await folder.names(), await read("b")];
}"""
COMPARE = """async ([url, isWhole]) => {
  const { compareJournal, fromJournal, tidyJournal } = (await import(url)).take("browser/storage/journal.js");
  const isTidy = await tidyJournal();
  const { missing } = await compareJournal(isWhole);
  return { isTidy, missing, entries: await fromJournal(missing) };
}"""
FILES = """async () => {
  const names = [];
  const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle("tankfoot-journal");
  for await (const name of folder.keys()) names.push(name);
  return names;
}"""
# A thread as the app starts it, asked for something that it cannot do, then for what it does every day.
ASK_THREAD = """([url, entry]) => {
  const address = trustedTypes.createPolicy("tankfoot-thread", { createScriptURL: () => url }).createScriptURL("");
  const thread = new Worker(address, { type: "module", name: "browser/storage/journal_worker" });
  const answer = (asked) => new Promise((resolve) => {
    thread.onmessage = ({ data }) => resolve(data.answer);
    thread.postMessage(asked);
    setTimeout(() => resolve("no answer"), 3000);
  });
  const put = { number: 2, what: "append", given: { put: [entry], gone: [] } };
  return answer({ number: 1, what: "compare", given: null }).then(async (first) => [first, await answer(put)]);
}"""
# A tap while all that the journal lacks is copied: what came first, and whether the tap is in both copies.
TAP_MEANWHILE = """async ([url, text, count]) => {
  const { addToJournal, compareJournal } = (await import(url)).take("browser/storage/journal.js");
  const { withStore } = (await import(url)).take("browser/storage/database.js");
  const entry = JSON.parse(text);
  await withStore("readwrite", (store) => {
    for (let n = 0; n < count; n += 1) store.put({ ...entry, id: crypto.randomUUID() });
  });
  await addToJournal({ put: [entry] }); // its file is there
  const over = [];
  const whole = compareJournal(true).then(() => over.push("compared"));
  const isCopied = await addToJournal({ put: [{ ...entry, edited: "2026-07-01T10:00:00.000Z" }] });
  over.push("saved");
  await whole;
  return [isCopied, over];
}"""
# Behind the app's back, as a phone loses it.
LOSE = """async ([url, ids]) => {
  const { withStore } = (await import(url)).take("browser/storage/database.js");
  await withStore("readwrite", (store) => { for (const id of ids) store.delete(id); });
}"""


def deleted(folder, rng):
    shutil.rmtree(folder)


def cut_short(folder, rng):
    """Every file of the database loses its end, as on a disk that was full or unplugged."""
    for path in files_of(folder):
        content = path.read_bytes()
        path.write_bytes(content[: rng.randrange(len(content) // 2 + 1)])


def filled_with_noise(folder, rng):
    for path in files_of(folder):
        path.write_bytes(rng.randbytes(path.stat().st_size))


def files_of(folder):
    return [path for path in sorted(folder.rglob("*")) if path.is_file()]


def databases(profile):
    """The folders in which Chromium keeps the databases of this one site."""
    found = list(profile.glob("**/IndexedDB/*127.0.0.1*"))
    assert found
    return found


def opened(context, address):
    page = context.new_page()
    page.goto(address)
    page.locator("main[data-ready]").wait_for()
    return page


@pytest.mark.parametrize("harm", [deleted, cut_short, filled_with_noise])
def test_what_was_confirmed_is_put_back_with_one_tap(harm, own_chromium, served, tmp_path, pytestconfig, tell):
    rng, written, confirmed = random.Random(harm.__name__), {}, set()
    lives = pytestconfig.getoption("kills") // 2
    for life in range(lives):
        page = opened(own_chromium.start(), served.address)
        found_again(page, confirmed, written)
        entries = [cellar.tank(f"FV {life}.{number}") for number in range(500)]
        written |= {entry["id"]: entry for entry in entries}
        page.on("console", lambda message, heard=confirmed: heard.add(message.text))
        page.evaluate("async (url) => { await import(url); }", served.script)  # its life is for writing
        dying = threading.Timer(rng.uniform(0.3, 1) * LONGEST_LIFE, own_chromium.strike)
        dying.start()
        with pytest.raises(PlaywrightError, match="closed"):
            page.evaluate(WRITE, [served.script, json.dumps(entries)])
        dying.join()
        own_chromium.kill()
        confirmed &= set(written)
        for folder in databases(tmp_path / "profile"):
            harm(folder, rng)
    page = opened(own_chromium.start(), f"{served.address}record/")
    found_again(page, confirmed, written)
    page = opened(page.context, served.address)
    expect(page.locator("[data-loss]")).to_be_hidden(timeout=PUT_BACK)
    tell(f"database {harm.__name__} {lives} times, each after a kill: {len(confirmed)} confirmed entries all put back")
    assert len(confirmed) > lives


def found_again(page, confirmed, written):
    """All that was confirmed comes back, as it was; what nobody had heard of may be there too."""
    if confirmed:
        notice = page.locator("[data-loss]")
        expect(notice).to_contain_text("missing")
        notice.get_by_role("button", name="Put them back").click()
        expect(notice).to_be_hidden(timeout=PUT_BACK)
    found = {entry["id"]: entry for entry in page.evaluate(READ)}
    assert confirmed <= set(found)
    assert all(written[id] == entry for id, entry in found.items())


def test_a_line_that_is_cut_short_or_spoilt_is_none(phone, served):
    page = opened(phone, f"{served.address}record/")
    whole, others = page.evaluate(LINES, [served.script, []])
    assert whole["entry"]["body"]["name"] == "Käse 🍺"
    assert others and not any(others)


def test_where_there_is_no_private_file_system_the_lines_lie_in_cache_storage(phone, served):
    page = opened(phone, f"{served.address}record/")
    lines = ["a1\na2\na3\n", "b1\nb2\nb3\n"]
    assert page.evaluate(CACHED, served.script) == [["a", "b"], *lines, ["b"], lines[1]]


def test_many_files_become_one_that_has_what_counts(phone, served):
    tank = cellar.tank("FV 1")
    for number in range(MOST_FILES + 2):
        page = opened(phone, f"{served.address}record/")
        now = f"2026-03-02T12:00:{number:02d}.000Z"
        last = cellar.tank(f"FV {number + 2}"), tank | {"edited": now}
        cellar.keep(page, served, *last)
        page.close()
    page = opened(phone, f"{served.address}record/")
    stored = {entry["id"]: entry for entry in page.evaluate(READ)}
    assert len(stored) == MOST_FILES + 3
    assert page.evaluate(COMPARE, [served.script, True])["missing"] == []
    assert len(page.evaluate(FILES)) < MOST_FILES // 2  # one, or some more where a page was closed while it tidied up
    page.evaluate(LOSE, [served.script, list(stored)])
    again = page.evaluate(COMPARE, [served.script, True])
    assert {entry["id"]: entry for entry in again["entries"]} == stored


def test_what_an_import_wrote_is_read_once_more_and_then_only_where_something_is_missing(phone, served):
    page = opened(phone, f"{served.address}record/")
    many = [cellar.tank(f"FV {number}") for number in range(2500)]
    cellar.keep(page, served, *many)
    page.close()
    page = phone.new_page()
    page.goto(f"{served.address}settings/")
    start = page.evaluate(COMPARE, [served.script, False])
    assert start["isTidy"] and start["missing"] == []
    assert [name.startswith("whole-") for name in page.evaluate(FILES)].count(True) == 1
    ids = [entry["id"] for entry in many]
    page.evaluate(LOSE, [served.script, ids[:3]])
    assert page.evaluate(COMPARE, [served.script, False])["missing"] == []  # a start that has no reason to look at all
    again = page.evaluate(COMPARE, [served.script, True])
    assert sorted(again["missing"]) == sorted(ids[:3])
    assert {entry["id"]: entry for entry in again["entries"]} == {entry["id"]: entry for entry in many[:3]}


def test_what_was_there_before_the_journal_is_added_and_what_its_owner_took_out_is_not_missed(phone, served):
    page = opened(phone, served.address)
    before, taken_out = cellar.tank("FV 1"), cellar.tank("FV 2")
    page.evaluate("""async ([url, entry]) => {
      await (await import(url)).take("browser/storage/database.js").withStore("readwrite", (store) => store.put(entry));
    }""", [served.script, before])
    cellar.keep(page, served, taken_out)
    assert page.evaluate(COMPARE, [served.script, True])["missing"] == []
    page.evaluate("""async ([url, id]) => {
      await (await import(url)).take("browser/storage/record.js").discard(id);
    }""", [served.script, taken_out["id"]])
    page.evaluate(LOSE, [served.script, [before["id"]]])
    again = page.evaluate(COMPARE, [served.script, True])
    assert again["entries"] == [before]


def test_the_record_says_how_it_is_kept(phone, served):
    page = opened(phone, f"{served.address}record/")
    says = page.locator("[data-keeping]")
    expect(says).to_contain_text("Never exported from this phone yet.")
    cellar.keep(page, served, cellar.tank("FV 1"))
    page.wait_for_function("() => JSON.parse(localStorage.getItem('tankfoot-record')).persisted !== undefined")
    page.reload()
    expect(says).to_contain_text("A second copy lies beside the record")
    # Source: Storage Standard (WHATWG), persist(): true or false, and a headless browser without a bookmark gets false
    expect(says).to_contain_text("The browser may clear the record")
    with page.expect_download():
        page.get_by_role("button", name="Export all").click()
    expect(says).to_contain_text("Last exported on")


def test_a_loss_without_a_copy_is_said_with_the_day_of_the_last_export(phone, served):
    page = opened(phone, f"{served.address}record/")
    cellar.keep(page, served, cellar.tank("FV 1"), cellar.tank("FV 2"))
    page.evaluate("sessionStorage.clear()")
    page.reload()
    page.wait_for_function("() => JSON.parse(localStorage.getItem('tankfoot-record')).entries === 2")
    with page.expect_download():
        page.get_by_role("button", name="Export all").click()
    page.evaluate("""async () => {
      await (await navigator.storage.getDirectory()).removeEntry("tankfoot-journal", { recursive: true });
      sessionStorage.clear();
    }""")
    page.evaluate(LOSE, [served.script, [cellar.id_of("FV 1"), cellar.id_of("FV 2")]])
    page.reload()
    notice = page.locator("[data-loss]")
    expect(notice).to_contain_text("2 entries of the record on this phone are gone. The last export was on")
    notice.get_by_role("button", name="I know").click()
    expect(notice).to_be_hidden()
    page.reload()
    page.locator("main[data-ready]").wait_for()
    expect(notice).to_be_hidden()


def test_a_request_that_fails_leaves_the_thread_answering(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}settings/")
    script = f"{served.address}js/browser/storage/journal_worker.js"
    answers = page.evaluate(ASK_THREAD, [script, cellar.tank("FV 1")])
    assert answers == [None, True]


def test_a_tap_does_not_wait_until_the_whole_record_is_compared(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}settings/")
    answers = page.evaluate(TAP_MEANWHILE, [served.script, json.dumps(cellar.tank("FV 1")), 4000])
    assert answers == [True, ["saved", "compared"]]
