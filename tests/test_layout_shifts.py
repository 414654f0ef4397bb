"""Nothing on a page moves by itself as it starts: what a hand is about to touch stays where it is."""

import json

import pytest
from browsers import PHONE
from frozen import one_page_of_each_kind
from playwright.sync_api import expect

SLOWER = 4  # a middling phone
AT_MOST = 0.01  # a unit that gets some pixels wider; the project's own figure, no source (up to 0.1 is called good)
SETTLED = 500  # ms; what comes after the page is ready is there by then
# Source: W3C, Layout Instability API: what was visible in two frames after one another, at different places.
SHIFTS = """window.shifts = [];
new PerformanceObserver((list) => {
  for (const { value, sources } of list.getEntries()) {
    shifts.push([value, ...sources.map(({ node }) => (node?.outerHTML ?? node?.textContent ?? "").slice(0, 100))]);
  }
}).observe({ type: "layout-shift", buffered: true });"""
LOAD = 'async ([url, entries]) => (await import(url)).take("browser/storage/record.js").put(...JSON.parse(entries))'


@pytest.fixture(scope="module", params=["an empty record", "the invented brewery's"])
def phone(request, chromium, served, site):
    context = chromium.new_context(**PHONE, is_mobile=True, service_workers="block")  # no scroll bar takes room
    context.add_init_script(SHIFTS)
    context.is_empty = request.param == "an empty record"
    if not context.is_empty:
        entries = json.loads((site / "assets" / "demo" / "record.json").read_text(encoding="utf-8"))["entries"]
        page = context.new_page()
        page.goto(served.address)
        page.evaluate(LOAD, [served.script, json.dumps(entries)])
        page.close()
    yield context
    context.close()


def test_nothing_moves_as_a_page_starts(phone, served, site):
    moved = {}
    for address in one_page_of_each_kind(site):
        fills = "data-fills" in (site / address).read_text(encoding="utf-8")
        if phone.is_empty and not fills:
            continue  # what a record fills, or leaves empty; any other page is the same
        page = phone.new_page()
        phone.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        page.goto(served.address + address)
        if fills:
            page.locator("main[data-ready]").wait_for()
        page.wait_for_timeout(SETTLED)
        if (shifts := page.evaluate("shifts")) and sum(value for value, *_ in shifts) > AT_MOST:
            moved[address] = shifts
        page.close()
    assert moved == {}, moved


def test_a_page_that_never_gets_ready_shows_what_stands_in_it(phone, served):
    page = phone.new_page()
    page.route("**/js/*", lambda route: route.abort())
    page.goto(served.address)
    gauges = page.locator("main a[href='gauges/']").last
    expect(gauges).to_be_hidden()
    expect(gauges).to_be_visible(timeout=10_000)
    page.close()
