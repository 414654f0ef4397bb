"""What a record of years would be searched for is found by its mark, and what is read does not grow with the record."""

import json

import cellar
import hand
import pytest
from playwright.sync_api import expect
from test_record import READ, WRITE, ready

# The store as the app made it before it had marks: version 5 of the database.
FIFTH_DATABASE = """entries => new Promise((resolve, reject) => {
  const request = indexedDB.open("tankfoot", 5);
  request.onupgradeneeded = () => {
    const store = request.result.createObjectStore("entries", { keyPath: "id" });
    const indexes = {
      kind: "kind", tank: "body.tank", open: "body.open", "by-day": ["kind", "created"],
      "of-tank-by-day": ["kind", "body.tank", "created"], "of-tank-at": ["kind", "body.tank", "body.at"],
      "of-batch-at": ["kind", "body.batch", "body.at"],
    };
    for (const [name, path] of Object.entries(indexes)) store.createIndex(name, path);
    request.result.createObjectStore("memory");
    for (const entry of entries) store.put(entry);
  };
  request.onsuccess = () => { request.result.close(); resolve(); };
  request.onerror = () => reject(request.error);
})"""
VERSION = "async () => (await indexedDB.databases()).find(({ name }) => name === 'tankfoot').version"
ROWS = """() => new Promise((resolve) => {
  indexedDB.open("tankfoot").onsuccess = ({ target: { result } }) => {
    result.transaction("marks").objectStore("marks").getAll().onsuccess = ({ target }) => {
      result.close();
      resolve(target.result);
    };
  };
})"""
# Counts what the database hands out on a page: values, keys, steps of cursors.
COUNTING = """window.handedOut = 0;
for (const store of [IDBObjectStore, IDBIndex]) {
  for (const way of ["get", "getKey", "getAll", "getAllKeys", "openCursor", "openKeyCursor"]) {
    const ask = store.prototype[way];
    store.prototype[way] = function (...what) {
      const request = ask.apply(this, what);
      request.addEventListener("success", () => {
        window.handedOut += Array.isArray(request.result) ? request.result.length : Number(request.result != null);
      });
      return request;
    };
  }
}"""
GROW = """async ([url, texts, count]) => {
  const { put } = (await import(url)).take("browser/storage/record.js");
  const entries = texts.flatMap((text) => Array.from({ length: count }, (_, place) => {
    const created = new Date(Date.now() - (place + 1) * 36e5).toISOString();
    return { ...JSON.parse(text), id: crypto.randomUUID(), created, edited: created };
  }));
  await put(...entries);
}"""
TAKEN = """async ([url, ids]) => {
  await (await import(url)).take("browser/storage/record.js").discard(...ids);
}"""


def finished(of=None, **more):
    made = cellar.walked(hand.TAPS, of, state="saved", **more)
    del made["body"]["open"]
    return made


def lifted(of):
    return cellar.hold(of, lifted=cellar.MADE, lifted_by="AB", lifted_why="Mended")


def cellar_of_all():
    """One of each: under way, deleted while it was, without a tank, deleted without a tank; a hold and a lifted one."""
    under_way = cellar.walked(["begin"], "FV 1")
    buried = cellar.walked(["begin"], "FV 2") | {"deleted": True}
    tankless, gone = finished(), finished() | {"deleted": True}
    tanks = [cellar.tank("FV 1"), cellar.tank("FV 2")]
    return [*tanks, under_way, buried, tankless, gone, cellar.hold("FV 2"), lifted("FV 1")]


def all_is_found(page, served, solids=1):
    page.goto(served.address)
    ready(page)
    expect(page.locator("[data-open] li")).to_have_count(1)
    expect(page.locator("[data-open]")).to_contain_text("FV 1")
    expect(page.locator("[data-held] li")).to_have_count(1)
    expect(page.locator("[data-held]")).to_contain_text("FV 2")
    page.goto(f"{served.address}record/")
    ready(page)
    page.locator("#of-tank").select_option("none")
    expect(page.locator("[data-list] li")).to_have_count(solids)


def test_a_database_of_before_gets_its_marks_and_keeps_what_it_holds(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}tankfoot.webmanifest")  # of the same site, and opens no database
    entries = cellar_of_all()
    page.evaluate(FIFTH_DATABASE, entries)
    all_is_found(page, served)
    assert page.evaluate(VERSION) == 6
    kept = {entry["id"]: entry for entry in page.evaluate(READ)}
    assert kept == {entry["id"]: entry for entry in entries}
    assert len(page.evaluate(ROWS)) == 6


def test_what_the_app_writes_changes_its_marks(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}record/")
    ready(page)
    entries = cellar_of_all()
    cellar.keep(page, served, *entries)
    all_is_found(page, served)
    _, _, under_way, buried, tankless, gone, hold, _ = entries
    cellar.keep(page, served, under_way | {"body": under_way["body"] | {"state": "saved", "open": 0}},
                tankless | {"body": tankless["body"] | {"tank": cellar.id_of("FV 1")}}, gone | {"deleted": False},
                hold | {"body": hold["body"] | {"lifted": cellar.MADE}}, buried | {"deleted": False})
    page.goto(served.address)
    ready(page)
    expect(page.locator("[data-open]")).to_contain_text("FV 2")
    expect(page.locator("[data-open] li")).to_have_count(1)
    expect(page.locator("[data-held]")).to_be_hidden()
    page.goto(f"{served.address}record/")
    ready(page)
    page.locator("#of-tank").select_option("none")
    expect(page.locator("[data-list] li")).to_have_count(1)
    page.evaluate(TAKEN, [served.script, [entry["id"] for entry in entries]])
    assert page.evaluate(ROWS) == []


def test_what_another_hand_wrote_past_the_app_is_found_all_the_same(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}record/")
    ready(page)
    page.evaluate(WRITE, cellar_of_all())
    all_is_found(page, served)
    assert len(page.evaluate(ROWS)) == 6


@pytest.mark.parametrize("place, ready_at", [
    ("", "main[data-today][data-ready]"), ("record/", "main[data-record][data-ready]"), ("purge/", "main[data-ready]"),
])
def test_ten_times_the_record_hands_out_no_more(place, ready_at, phone, served):
    phone.add_init_script(COUNTING)
    page = phone.new_page()
    page.goto(f"{served.address}record/")
    ready(page)
    cellar.keep(page, served, cellar.tank("FV 1", purge_every=86400.0), cellar.tank("FV 2"))
    grown = [finished("FV 1"), finished(), cellar.walked(["begin"], "FV 2") | {"deleted": True}, lifted("FV 2")]
    counts = []
    for more in (150, 1350):
        page.goto(f"{served.address}about/")
        page.evaluate(GROW, [served.script, [json.dumps(entry) for entry in grown], more])
        page.goto(served.address + place)
        page.locator(ready_at).wait_for(state="attached")
        counts.append(page.evaluate("handedOut"))
    assert 0 < counts[1] <= counts[0] + 20, counts
