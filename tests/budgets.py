"""Measures the built site: ``python tests/budgets.py`` prints each figure beside its budget and the last release's."""

import gzip
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from threading import Thread
from typing import NamedTuple

from browsers import PHONE, chromium_options
from frozen import written
from playwright.sync_api import sync_playwright
from tankfoot.site.freezer import THREAD, freeze
from tankfoot.site.pack import PACK
from tankfoot.site.server import bind

PAGE = "calculators/purge-volume/"
SETTLED = 1500  # ms; whoever asks a page while it starts slows it down
START_CLOCK = """new MutationObserver((_, observer) => {
  if (!document.querySelector("[data-ready]")) return;
  window.startedAt = performance.now();
  observer.disconnect();
}).observe(document, { subtree: true, attributes: true, attributeFilter: ["data-ready"] });"""
KEYSTROKE = """async () => {
  const entry = document.querySelector("[data-field=headspace] [data-entry]");
  const times = [];
  for (let i = 0; i < 30; i += 1) {
    entry.value = String(3 + i / 10);
    const start = performance.now();
    entry.dispatchEvent(new Event("input", { bubbles: true }));
    times.push(performance.now() - start);
    await new Promise(requestAnimationFrame);
  }
  return times;
}"""


class Size(NamedTuple):
    """How much of the site is weighed, and how: what is aimed at, what it was at the last release (kB, gzipped), and
    how many times that is no growth but a mistake. The project's own figures, no source."""

    files: str
    weigh: Callable
    budget: float
    released: float
    jump: float


def each(files):
    return sum(map(packed, files))


def together(files):
    return len(gzip.compress(b"".join(path.read_bytes() for path in sorted(files)), 9)) / 1000


def median(files):
    return statistics.median(map(packed, files))


def packed(file):
    return len(gzip.compress(file.read_bytes(), 9)) / 1000


THREAD_FILE = f"js/{THREAD}"
ONCE_MORE = (PACK, THREAD_FILE)  # what other files hold too
# Each page has grown by 0.8 kB: the script that runs before it is drawn stands in it, one answer less to wait for.
# A sum or a list more leaves all of them well under their jump: a median hardly moves, and the whole has room.
SIZES = {
    "all files, each gzipped": Size("**/*", each, 200, 645, 1.35),
    "all files, gzipped as one": Size("**/*", together, 200, 458, 1.33),
    "the pack, without what the first page asks for": Size(PACK, each, 300, 308, 1.35),
    "the journal's thread, once more beside the script": Size(THREAD_FILE, each, 10, 9.09, 1.35),
    "JavaScript, each file gzipped": Size("**/*.js", each, 70, 247, 1.45),
    "a calculator's page, median": Size("calculators/*/index.html", median, 4, 4.85, 1.15),
    "a checklist's page, median": Size("checklists/*/index.html", median, 5, 5.93, 1.15),
    "an emergency card's page, median": Size("emergency/*/index.html", median, 3, 3.62, 1.15),
}


def weighed(site):
    """{what: (its Size, kB now)} of a built ``site`` in English. What stands there once more has its own row alone."""
    own = {*written(site)}
    return {
        what: (size, size.weigh([path for path in site.glob(size.files) if path in own and path not in beside]))
        for what, size in SIZES.items()
        for beside in [{site / again for again in ONCE_MORE if again != size.files}]
    }


def told(what, size, now):
    over = "  OVER" if now > size.budget else ""
    return f"{what}: {now:.3g} kB (budget {size.budget:g} kB, last release {size.released:g} kB){over}"


def main():
    with tempfile.TemporaryDirectory() as folder:
        site = Path(folder) / "site"
        start = time.perf_counter()
        freeze(site)
        tell("build", time.perf_counter() - start, "s", 5)
        print(*(told(what, *found) for what, found in weighed(site).items()), sep="\n")
        in_the_browser(site, Path(folder) / "profile")


def in_the_browser(site, profile):
    server = bind(site, 8901)
    Thread(target=server.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{server.server_port}/{PAGE}"
    with sync_playwright() as playwright:
        visit(playwright, profile, address, lambda page: page.wait_for_function(
            "document.querySelector('[data-kept]')?.textContent.startsWith('Ready') "
            "|| navigator.serviceWorker.ready.then(() => true)"))
        server.shutdown()
        server.server_close()
        starts = [visit(playwright, profile, address, started, 4) for _ in range(7)]
        tell("offline start, 4x slower, median", statistics.median(starts), "ms", 500)
        keys = visit(playwright, profile, address, lambda page: page.evaluate(KEYSTROKE), 6)
        tell("keystroke to result, 6x slower, median", statistics.median(keys), "ms", 30)


def visit(playwright, profile, address, work, slower=1):
    context = playwright.chromium.launch_persistent_context(str(profile), **chromium_options(playwright), **PHONE)
    context.add_init_script(START_CLOCK)
    page = context.new_page()
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": slower})
    page.goto(address)
    done = work(page)
    context.close()
    return done


def started(page):
    page.wait_for_timeout(SETTLED)
    return page.evaluate("startedAt")


def tell(what, found, unit, budget):
    print(f"{what}: {found:.4g} {unit} (budget {budget} {unit}){'' if found <= budget else '  OVER'}")


if __name__ == "__main__":
    main()
