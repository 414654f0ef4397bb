"""What files of a large record cost a phone: ``python tests/files_cost.py`` exports all, makes the table of purges, and
imports the export on another phone, at a 4x slow-down.

Prints of each the seconds, the longest task of the page in ms (nothing answers a tap meanwhile) and the most memory
that the browser's processes took at once.
"""

import argparse
import json
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path
from threading import Event, Thread

import cellar
import hand
from browsers import PHONE
from playwright.sync_api import expect
from test_large_record import FILL
from today_cost import SLOWER, frozen_in_a_browser

BUDGET = 200  # ms, a task
WITHIN = 3_600_000  # ms
EVERY = 0.1  # s, between two looks at the memory
WATCH = """() => {
  window.tasks = [];
  new PerformanceObserver((list) => tasks.push(...list.getEntries().map(({ duration }) => duration)))
    .observe({ type: "longtask" });
}"""
LONGEST = "() => Math.max(0, ...tasks.splice(0))"


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--purges", type=int, default=20_000)
    count = options.parse_args().purges
    with tempfile.TemporaryDirectory() as folder, frozen_in_a_browser() as (browser, root):
        page = record(browser, root)
        page.evaluate(FILL, [finished(), count, 0])
        page.reload()
        page.locator("main[data-ready]").wait_for()
        slowed(page)
        files = []
        page.on("download", lambda download: files.append(download))
        with measured(page, "export"):
            page.get_by_role("button", name="Export all").click()
            expect(page.locator("[data-files-say]")).to_contain_text(".json", timeout=WITHIN)
        links = page.locator("[data-files-say] a[download]").all()  # none of a single file, which is handed on at once
        for link in links:
            link.click()
        while len(files) < max(1, len(links)):
            page.wait_for_timeout(100)
        paths = [saved(each, folder) for each in files]
        with measured(page, "table"), page.expect_download(timeout=WITHIN):
            page.get_by_role("button", name="Purges as a table").click()
        page.context.close()
        theirs = record(browser, root)
        slowed(theirs)
        with measured(theirs, "look at the file"):
            theirs.locator("[data-import]").set_input_files(paths)
            expect(theirs.locator("[data-plan-says]")).to_have_text(f"{count:,} new: added", timeout=WITHIN)
        with measured(theirs, "import"):
            theirs.locator("[data-write]").click()
            expect(theirs.locator("[data-files-say]")).to_have_text(f"Imported: {count:,} entries.", timeout=WITHIN)


def finished():
    purge = cellar.walked(hand.TAPS, "FV 1", state="saved")
    del purge["body"]["open"]
    return json.loads(json.dumps(purge))


def record(browser, root):
    page = browser.new_context(**PHONE, service_workers="block").new_page()
    page.set_default_timeout(WITHIN)
    page.goto(f"{root}record/")
    page.locator("main[data-ready]").wait_for()
    return page


def slowed(page):
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    page.evaluate(WATCH)


def saved(download, folder):
    path = Path(folder) / download.suggested_filename
    download.save_as(path)
    return path


@contextmanager
def measured(page, what):
    page.evaluate(LONGEST)
    before, most, over = taken(), [0.0], Event()
    watcher = Thread(target=watch, args=(most, over))
    watcher.start()
    begun = time.monotonic()
    yield
    took = time.monotonic() - begun
    over.set()
    watcher.join()
    longest = page.evaluate(LONGEST)
    print(f"{what:18} {took:7.1f} s   longest task {longest:7.0f} ms (budget {BUDGET})   "
          f"memory {most[0] / 1e6:6.0f} MB, {(most[0] - before) / 1e6:5.0f} MB more than before", flush=True)


def watch(most, over):
    while not over.wait(EVERY):
        most[0] = max(most[0], taken())


def taken():
    """Bytes of the memory of all browser processes that this script has started, what they share counted once."""
    mine, found = {str(Path("/proc/self").resolve().name)}, 0
    parents = {}
    for status in Path("/proc").glob("[0-9]*/stat"):
        try:
            parents[status.parent.name] = status.read_text().rsplit(")", 1)[1].split()[1]
        except OSError:
            continue  # it has ended meanwhile
    while more := {id for id, parent in parents.items() if parent in mine} - mine:
        mine |= more
    for id in mine - {Path("/proc/self").resolve().name}:
        try:
            lines = Path(f"/proc/{id}/smaps_rollup").read_text().splitlines()
        except OSError:
            continue  # so has this one
        found += sum(int(line.split()[1]) * 1024 for line in lines if line.startswith("Pss:"))
    return found


if __name__ == "__main__":
    main()
