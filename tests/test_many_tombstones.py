"""A record of many tombstones: what stands behind them is found, and the page says how far it has read."""

import json

import cellar
from playwright.sync_api import expect
from test_record import ready

COUNT = 3000
BURY = """async ([url, count, text]) => {
  const { put } = await (await import(url)).take("browser/storage/record.js");
  const dead = Array.from({ length: count }, (_, place) => ({ ...JSON.parse(text), deleted: true,
    id: `${String(place).padStart(8, "0")}-1111-4111-8111-111111111111`, created: "2026-05-01T07:00:00.000Z" }));
  await put(...dead);
}"""
# Every read takes a time that a phone may take: what is said meanwhile is noted.
SLOW = """
  window.said = [];
  const getter = Object.getOwnPropertyDescriptor(Performance.prototype, "now");
  let turns = 0;
  Performance.prototype.now = function () { turns += 300; return getter.value.call(this) + turns; };
  addEventListener("DOMContentLoaded", () => {
    const place = document.querySelector("[data-reading]");
    if (place) new MutationObserver(() => said.push(place.textContent)).observe(place, { childList: true });
  });
"""


def test_what_stands_behind_many_tombstones_is_found_and_the_page_says_how_far_it_is(phone, served):
    page = phone.new_page()
    page.goto(served.address)
    finished = cellar.walked(["begin"], "FV 1", state="saved", open=0)
    old = {**finished, "created": "2026-04-01T07:00:00.000Z"}
    page.evaluate(BURY, [served.script, COUNT, json.dumps(finished)])
    cellar.keep(page, served, cellar.tank("FV 1", purge_every=3600.0), old)
    page.add_init_script(SLOW)
    page.goto(f"{served.address}record/")
    expect(ready(page).locator("[data-list] li")).to_have_count(1)
    said = [text for text in page.evaluate("said") if text]
    assert said
    assert all(text.startswith("Reading the record: ") and text.endswith("of 3,001") for text in said), said
    expect(page.locator("[data-reading]")).to_be_empty()
    expect(page.locator("[data-more]")).to_be_hidden()
    page.goto(served.address)
    expect(ready(page).locator("[data-next]")).to_contain_text("FV 1")  # it was purged just now
