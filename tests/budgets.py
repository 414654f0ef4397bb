"""Measures the built site and prints each figure beside its budget: ``python tests/budgets.py``."""

import gzip
import statistics
import tempfile
import time
from pathlib import Path
from threading import Thread

from browsers import PHONE, chromium_options
from playwright.sync_api import sync_playwright
from tankfoot.site.freezer import freeze
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


def main():
    with tempfile.TemporaryDirectory() as folder:
        site = Path(folder) / "site"
        start = time.perf_counter()
        freeze(site)
        tell("build", time.perf_counter() - start, "s", 5)
        files = [path for path in site.rglob("*") if path.is_file()]
        scripts = [path for path in files if path.suffix == ".js"]
        tell("all files, each gzipped", kilobytes(files), "kB", 200)
        tell("all files, gzipped as one", together(files), "kB", 200)
        tell("JavaScript, each file gzipped", kilobytes(scripts), "kB", 70)
        tell("JavaScript, gzipped as one", together(scripts), "kB", 70)
        in_the_browser(site, Path(folder) / "profile")


def kilobytes(files):
    return sum(len(gzip.compress(path.read_bytes(), 9)) for path in files) / 1000


def together(files):
    return len(gzip.compress(b"".join(path.read_bytes() for path in sorted(files)), 9)) / 1000


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
