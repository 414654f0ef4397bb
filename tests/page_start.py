"""What a page's start costs without signal: ``python tests/page_start.py`` opens each in turns, at a 4x slow-down.

An empty page with a service worker of its own is the floor, an identical copy of the site the control: what differs
there is noise. Prints the median ms from navigation until the page can be used, as times the empty page's.
"""

import argparse
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
PAGES = {
    "a sum": "calculators/purge-volume/", "Today": "", "a purge": "purge/", "the record": "record/",
    "a list": "checklists/cold-exposure/", "a card": "emergency/hose-burst/", "a tank": "tanks/tank/",
    "what it cost": "cost/", "rehearsals": "rehearsal/",
}
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
    rounds = options.parse_args().rounds
    with ExitStack() as open_things:
        folder = Path(open_things.enter_context(tempfile.TemporaryDirectory()))
        site, empty = folder / "site", folder / "empty"
        freeze(site)
        empty.mkdir()
        (empty / "index.html").write_text(EMPTY, encoding="utf-8")
        (empty / "sw.js").write_text(EMPTY_WORKER, encoding="utf-8")
        playwright = open_things.enter_context(sync_playwright())
        browser = playwright.chromium.launch(**light_options(playwright))
        phones = [kept(browser, bind(each, 8910)) for each in (empty, site, site)]
        times = {(what, number): [] for what in PAGES for number in range(3)}
        for turn in range(1 + rounds):
            for what, path in PAGES.items():
                for number, (phone, root) in enumerate(phones):
                    took = opened(phone, root + (path if number else ""))
                    times[what, number] += [took] if turn else []
        browser.close()
    for what in PAGES:
        empty, first, copy = (statistics.median(times[what, number]) for number in range(3))
        times_empty = f"{first / empty:.2f} times an empty page (budget {AT_MOST:g})"
        print(f"{what}: {first:.0f} ms, {times_empty}; a copy {copy:.0f} ms")


def kept(browser, server):
    """A phone that keeps the site of ``server``, which is stopped then, and the site's address."""
    Thread(target=server.serve_forever, daemon=True).start()
    root = f"http://127.0.0.1:{server.server_port}/"
    phone = browser.new_context(**PHONE)
    phone.add_init_script(START_CLOCK)
    page = phone.new_page()
    page.goto(root)
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.wait_for_timeout(SETTLED)  # the worker takes the page over
    server.shutdown()
    server.server_close()
    page.close()
    return phone, root


def opened(phone, address):
    """ms until a page of its own can be used: one that stays open would slow the others down."""
    page = phone.new_page()
    phone.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    page.goto(address)
    page.wait_for_timeout(SETTLED)
    took = page.evaluate("startedAt")
    page.close()
    return took


if __name__ == "__main__":
    main()
