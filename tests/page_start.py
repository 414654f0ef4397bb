"""What a page's start costs without signal: ``python tests/page_start.py`` opens each in turns, at a 4x slow-down.

An empty page with a service worker of its own is the floor, an identical copy of the site the control: what differs
there is noise. Prints the median ms from navigation until the page can be used, and until that is on the screen, as
times the empty page's: a page that is drawn only once it can be used would gain in the first alone.
"""

import argparse
import random
import statistics
import tempfile
from contextlib import ExitStack
from pathlib import Path
from threading import Thread

from browsers import PHONE, light_options
from budgets import SETTLED, START_CLOCK
from playwright.sync_api import sync_playwright
from tankfoot.site.freezer import freeze
from tankfoot.site.server import bind

SLOWER = 4
AT_MOST = 2.0  # times the empty page
EMPTY_PAGE = "an empty page"
PAGES = {
    "a sum": "calculators/purge-volume/", "Today": "", "a purge": "purge/", "the record": "record/",
    "a list": "checklists/cold-exposure/", "a card": "emergency/hose-burst/", "a tank": "tanks/tank/",
    "what it cost": "cost/", "rehearsals": "rehearsal/",
}
SEEN_CLOCK = START_CLOCK.replace(
    "window.startedAt = performance.now();",
    """window.startedAt = performance.now();
  requestAnimationFrame(() => setTimeout(() => { window.seenAt = performance.now(); }));""",
)
EMPTY = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Empty</title></head><body><main></main>
<script type="module">
await navigator.serviceWorker.register("sw.js");
document.querySelector("main").dataset.ready = "true";
</script></body></html>"""
EMPTY_WORKER = """
self.addEventListener("install", (event) => event.waitUntil(caches.open("a").then((cache) => cache.addAll(["./"]))));
self.addEventListener("fetch", (event) => event.respondWith(caches.match(event.request)));
"""


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--rounds", type=int, default=11, help="how often each is opened")
    options.add_argument("--against", type=Path, nargs="*", default=[], metavar="FOLDER", help="other built sites")
    chosen = options.parse_args()
    with ExitStack() as open_things:
        folder = Path(open_things.enter_context(tempfile.TemporaryDirectory()))
        site, empty = folder / "site", folder / "empty"
        freeze(site)
        empty.mkdir()
        (empty / "index.html").write_text(EMPTY, encoding="utf-8")
        (empty / "sw.js").write_text(EMPTY_WORKER, encoding="utf-8")
        ways = {EMPTY_PAGE: empty, "the site": site, "a copy": site} | {str(other): other for other in chosen.against}
        playwright = open_things.enter_context(sync_playwright())
        browser = playwright.chromium.launch(**light_options(playwright))
        phones = {way: kept(browser, bind(each, 8910)) for way, each in ways.items()}
        times = {(what, way): [] for what in PAGES for way in ways}
        for turn in range(1 + chosen.rounds):
            for what, path in PAGES.items():
                for way in random.sample(list(ways), len(ways)):  # who comes last may be quicker
                    phone, root = phones[way]
                    took = opened(phone, root + (path if way != EMPTY_PAGE else ""))
                    times[what, way] += [took] if turn else []
        browser.close()
    print(f"median, times an empty page's; budget {AT_MOST:g} times")
    for what in PAGES:
        for place, told in enumerate(["can be used", "is seen"]):
            found = {way: statistics.median(took[place] for took in times[what, way]) for way in ways}
            each = [f"{way} {ms:.0f} ms, {ms / found[EMPTY_PAGE]:.2f} times" for way, ms in found.items()]
            print(f"{what} {told}: {'; '.join(each)}")


def kept(browser, server):
    """A phone that keeps the site of ``server``, which is stopped then, and the site's address."""
    Thread(target=server.serve_forever, daemon=True).start()
    root = f"http://127.0.0.1:{server.server_port}/"
    phone = browser.new_context(**PHONE)
    phone.add_init_script(SEEN_CLOCK)
    page = phone.new_page()
    page.goto(root)
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.wait_for_timeout(SETTLED)  # the worker takes the page over
    server.shutdown()
    server.server_close()
    page.close()
    return phone, root


def opened(phone, address):
    """ms until a page of its own can be used, and is seen: one that stays open would slow the others down."""
    page = phone.new_page()
    phone.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    page.goto(address)
    page.wait_for_timeout(SETTLED)
    took = page.evaluate("[startedAt, seenAt]")
    page.close()
    return took


if __name__ == "__main__":
    main()
