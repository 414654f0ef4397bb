"""The database of a newer Tankfoot, after the app was taken back: it is read and exported, and never written."""

import json

import cellar
from playwright.sync_api import expect

RAISE = """(name) => new Promise((resolve, reject) => {
  const request = indexedDB.open("tankfoot", 99);
  request.onupgradeneeded = () => request.result.createObjectStore("of-the-future");
  request.onsuccess = () => { request.result.close(); resolve(); };
  request.onerror = () => reject(request.error);
})"""
VERSION = "async () => (await indexedDB.databases()).find(({ name }) => name === 'tankfoot').version"


def test_a_newer_database_is_read_and_exported_and_never_written(phone, served):
    page = phone.new_page()
    page.goto(served.address)
    tank = cellar.tank("FV 1")
    cellar.keep(page, served, tank)
    page.evaluate(RAISE)

    page.goto(f"{served.address}tanks/")
    expect(page.get_by_role("heading", name="FV 1")).to_be_visible()
    page.goto(f"{served.address}record/")
    page.locator("main[data-ready]").wait_for()
    with page.expect_download() as download:
        page.get_by_role("button", name="Export all").click()
    assert json.loads(download.value.path().read_text(encoding="utf-8"))["entries"] == [tank]

    page.goto(f"{served.address}tanks/tank/#id={tank['id']}")
    page.locator("main[data-ready]").wait_for()
    page.get_by_text("Change its numbers").click()
    page.locator("#tank-name").fill("FV 2")
    page.get_by_role("button", name="Save").first.click()
    expect(page.locator("[data-trouble]")).to_contain_text("from a newer Tankfoot: nothing was written")
    # Source: Indexed Database API 3.0 (W3C), 4.3: a version is only ever raised
    assert page.evaluate(VERSION) == 99
    assert cellar.kept(page, served, "tank") == [tank["body"]]
