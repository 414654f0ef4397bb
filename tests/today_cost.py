"""What Today costs: ``python tests/today_cost.py`` opens it with small and large records in turns, at a 4x slow-down.

A copy of the small record stands beside it: what differs there is noise. Prints the median of each in ms, with the
budget of the large cellar against the small one, and how the time grows with the record at the same live batches.
"""

import argparse
import json
import statistics
import tempfile
from contextlib import contextmanager
from pathlib import Path
from threading import Thread

import cellar
import hand
from browsers import PHONE, light_options
from budgets import SETTLED, START_CLOCK
from playwright.sync_api import sync_playwright
from tankfoot.site.freezer import freeze
from tankfoot.site.server import bind

SLOWER = 4
AT_MOST = 1.3  # times the small cellar's time, for the large one
READY = "() => document.querySelector('main[data-today][data-ready]') !== null"
# tanks, batches, purges, readings
SMALL = (10, 50, 1000, 5000)
CELLARS = {
    "10 tanks, 1,000 purges": SMALL,
    "the same again": SMALL,
    "60 tanks, 300 batches, 20,000 purges, 50,000 readings": (60, 300, 20_000, 50_000),
    "10 tanks, 5,000 purges": (10, 50, 5000, 5000),
    "10 tanks, 20,000 purges": (10, 50, 20_000, 5000),
    "10 tanks, 100,000 purges": (10, 50, 100_000, 5000),
}
# Five batches follow each other in each tank, the last one stays. A purge every third day and a reading every day, for
# as long back as there are so many: the same in a live batch, whatever the record holds.
FILL = """async ([tank, purge, [tanks, batches, purges, readings]]) => {
  const DAY = 86400e3;
  const STAY = 20 * DAY;
  const now = Date.now();
  const instant = (ms) => new Date(ms).toISOString();
  const entry = (kind, at, body, id = crypto.randomUUID()) => (
    { id, kind, created: instant(at), edited: instant(at), deleted: false, demo: false, body, history: [] }
  );
  const each = Math.ceil(batches / tanks);
  const start = now - each * STAY + 5 * DAY;
  const all = [];
  for (let n = 0; n < tanks; n += 1) {
    const { id, body } = entry("tank", start, { ...tank.body, name: `FV ${n + 1}`, purge_every: null });
    all.push(entry("tank", start, body, id));
    const at = { tank: id, tank_name: body.name };
    const plain = { amount: null, days: null, note: null, by: null };
    for (let b = 0; b < each; b += 1) {
      const filled = start + b * STAY;
      const batch = entry("batch", filled, { beer: `Beer ${b}`, notes: null });
      const story = { filled: 0, fermenting: 1, finished: 8, cooled: 9, emptied: 19 };
      all.push(batch);
      for (const [event, days] of Object.entries(story)) {
        const when = filled + days * DAY;
        const body = { ...at, ...plain, batch: batch.id, event, at: instant(when) };
        if (when < now) all.push(entry("batch-event", when, body));
      }
    }
    const every = (days, count, make) => {
      for (let k = 0; k < count / tanks; k += 1) all.push(make(now - (k + 0.5) * days * DAY));
    };
    every(3, purges, (ms) => entry("purge", ms, {
      ...purge.body, tank: id, tank_name: body.name,
      events: purge.body.events.map((event) => ({ ...event, at: instant(ms) })),
    }));
    every(1, readings, (ms) => entry("tank-reading", ms, {
      ...at, at: instant(ms), pressure: "12 psi", temperature: "36 °F", gravity: null, topped_up: null, by: null,
    }));
  }
  const database = await new Promise((resolve) => {
    indexedDB.open("tankfoot").onsuccess = ({ target }) => resolve(target.result);
  });
  for (let made = 0; made < all.length; made += 5000) {
    const transaction = database.transaction("entries", "readwrite");
    for (const one of all.slice(made, made + 5000)) transaction.objectStore("entries").put(one);
    await new Promise((resolve, reject) => { transaction.oncomplete = resolve; transaction.onabort = reject; });
  }
  database.close();
  return all.length;
}"""


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--rounds", type=int, default=11, help="how often each is opened")
    options.add_argument("--some", action="store_true", help="without the record of 100,000 purges")
    chosen = options.parse_args()
    cellars = {what: sizes for what, sizes in CELLARS.items() if not (chosen.some and sizes[2] > 20_000)}
    with frozen_in_a_browser() as (browser, root):
        phones = {what: filled(browser, root, sizes) for what, sizes in cellars.items()}
        times = {what: [] for what in phones}
        for _ in range(1 + chosen.rounds):
            for what, phone in phones.items():
                times[what].append(opened(phone, root))
    told({what: statistics.median(found[1:]) for what, found in times.items()})


@contextmanager
def frozen_in_a_browser():
    """(a browser, the address of the frozen site)."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        freeze(site)
        server = bind(site, 8903)
        Thread(target=server.serve_forever, daemon=True).start()
        browser = playwright.chromium.launch(**light_options(playwright))
        yield browser, f"http://127.0.0.1:{server.server_port}/"
        browser.close()
        server.shutdown()


def filled(browser, root, sizes, *, keeps=False):
    """A phone with a record of these sizes; ``keeps``: the app too, and opens it without asking the server."""
    context = browser.new_context(**PHONE, service_workers="allow" if keeps else "block")
    context.add_init_script(START_CLOCK)
    page = context.new_page()
    page.set_default_timeout(600_000)
    page.goto(root)
    page.wait_for_function(READY)
    purge = cellar.walked(hand.TAPS, "FV 1")
    del purge["body"]["open"]
    count = page.evaluate(FILL, [json.loads(json.dumps(cellar.tank("FV 1"))), purge, list(sizes)])
    print(f"{count} entries written")
    if keeps:
        page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
        page.wait_for_timeout(SETTLED)
    page.close()
    return context


def opened(context, root):
    """ms until Today is ready, on a page of its own: one that stays open would slow the others down."""
    page = context.new_page()
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    page.goto(root)
    page.wait_for_timeout(SETTLED)
    page.wait_for_function(READY)
    took = page.evaluate("startedAt")
    page.close()
    return took


def told(medians):
    small, again, large, *_ = medians.values()
    for what, median in medians.items():
        print(f"{what}: {median:.0f} ms, {median / small:.2f} times")
    noise = abs(again / small - 1.0)
    print(f"large cellar: {large / small:.2f} times (budget {AT_MOST}; a copy of the small one differs by {noise:.2f})")


if __name__ == "__main__":
    main()
