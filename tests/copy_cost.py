"""What a tap costs with the second copy: ``python tests/copy_cost.py`` writes a purge's entry with it, with it again
(what differs there is noise) and without, in turns, and prints the medians and the differences in ms."""

import json
import statistics
import tempfile
from pathlib import Path
from threading import Thread

import cellar
import hand
from browsers import PHONE, chromium_options
from playwright.sync_api import sync_playwright
from tankfoot.site.freezer import freeze
from tankfoot.site.server import bind

ROUNDS = 40
IN_TURN = 5  # writes of one page in a round
BUDGET = 5  # ms
WAYS = {"with": "", "with, again": "", "without": "delete window.Worker;"}
WRITE = """async ([url, text, count]) => {
  const { edited, put } = (await import(url)).take("browser/storage/record.js");
  let entry = { ...JSON.parse(text), id: crypto.randomUUID() };
  const times = [];
  for (let i = 0; i < count; i += 1) {
    entry = edited(entry, { ...entry.body, notes: String(i) });
    const start = performance.now();
    await put(entry);
    times.push(performance.now() - start);
  }
  return times;
}"""


def main():
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        freeze(site)
        server = bind(site, 8902)
        Thread(target=server.serve_forever, daemon=True).start()
        root = f"http://127.0.0.1:{server.server_port}/"
        pages = {}
        for number, (way, script) in enumerate(WAYS.items()):
            profile = str(Path(folder) / f"profile-{number}")
            context = playwright.chromium.launch_persistent_context(profile, **chromium_options(playwright), **PHONE)
            context.add_init_script(script)
            pages[way] = context.new_page()
            pages[way].goto(root)
        entries = {way: json.dumps(cellar.walked(hand.TAPS, "FV 1")) for way in WAYS}
        times = {way: [] for way in WAYS}
        for _ in range(1 + ROUNDS):
            for way, page in pages.items():
                times[way].append(page.evaluate(WRITE, [f"{root}js/tankfoot.js", entries[way], IN_TURN]))
        for page in pages.values():
            page.context.close()
        server.shutdown()
    # The first round starts the thread and opens the files.
    medians = {way: statistics.median([time for turn in found[1:] for time in turn]) for way, found in times.items()}
    print(*(f"{way}: {median:.2f} ms" for way, median in medians.items()), sep="\n")
    more, noise = medians["with"] - medians["without"], abs(medians["with"] - medians["with, again"])
    print(f"a tap costs {more:.2f} ms more (budget {BUDGET} ms); two alike differ by {noise:.2f} ms")


if __name__ == "__main__":
    main()
