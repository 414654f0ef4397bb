"""What a record of ten years costs: ``python tests/decade_cost.py`` goes the ways of every day on phones with 1,000 and
100,000 purges in turns, at a 4x slow-down, and prints the median of each in ms, the quickest (which a busy machine
disturbs less) and how they grow.

A copy of the small record stands beside it: what differs there is noise. What grows with the record has its share in
both: purges without a tank, purges that were deleted while they were open, holds that were lifted. All of it is in the
second copy too.
"""

import argparse
import json
import statistics
import time

import cellar
import hand
from budgets import SETTLED
from today_cost import AT_MOST, SLOWER, filled, frozen_in_a_browser

SMALL, LARGE = 1000, 100_000
BATCHES_OF = {SMALL: 50, LARGE: 2000}  # ten years of batches in ten tanks
READ_ONCE = 600_000  # ms
# One purge in a hundred without a tank, one that was deleted before it was over, and half a hold.
BESIDES = """async ([purge, hold, count]) => {
  const database = await new Promise((resolve) => {
    indexedDB.open("tankfoot").onsuccess = ({ target }) => resolve(target.result);
  });
  const transaction = database.transaction("entries", "readwrite");
  const store = transaction.objectStore("entries");
  const put = (entry, place, changes) => {
    const at = new Date(Date.now() - (place + 0.5) * 864e5 / 4).toISOString();
    store.put({ ...entry, id: crypto.randomUUID(), created: at, edited: at, ...changes });
  };
  for (let n = 0; n < count / 100; n += 1) {
    put(purge, n, { body: { ...purge.body, tank: null, tank_name: "" } });
    put(purge, n, { body: { ...purge.body, open: 1, state: "ready" }, deleted: true });
    if (n % 2) put(hold, n, { body: { ...hold.body, lifted: hold.created, lifted_by: "AB", lifted_why: "Mended" } });
  }
  await new Promise((resolve, reject) => { transaction.oncomplete = resolve; transaction.onabort = reject; });
  database.close();
}"""
# As in ``hand.py``, but timed in the page: from the tap until its step is gone.
TAP = """(event) => new Promise((resolve) => {
  const step = [...document.querySelectorAll("[data-step]")].find((each) => each.checkVisibility());
  const start = performance.now();
  new MutationObserver(() => { if (step.hidden) resolve(performance.now() - start); })
    .observe(step, { attributes: true, attributeFilter: ["hidden"] });
  step.querySelector(`[data-event=${event}]`).click();
})"""
FILTER = """(tank) => new Promise((resolve) => {
  const choice = document.querySelector("#of-tank");
  const start = performance.now();
  new MutationObserver(() => requestAnimationFrame(() => resolve(performance.now() - start)))
    .observe(document.querySelector("[data-list]"), { childList: true });
  choice.value = tank === "first" ? choice.options[1].value : tank;
  choice.dispatchEvent(new Event("change"));
})"""
DISCARD = """async (url) => {
  const { discard, unfinishedPurges } = (await import(url)).take("browser/storage/record.js");
  await discard(...(await unfinishedPurges()).map(({ id }) => id));
}"""
NEVER_COMPARED = """async (url) => {
  await (await import(url)).take("browser/storage/memory.js").openMemory("tankfoot-record").save({ compared: 0 });
}"""
COPIED = "() => JSON.parse(localStorage.getItem('tankfoot-record') ?? '{}').compared > 0"


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--rounds", type=int, default=11, help="how often each way is gone")
    options.add_argument("--large", type=int, default=LARGE, help="purges of the large record")
    options.add_argument("--small", type=int, default=SMALL, help="purges of the small one")
    chosen = options.parse_args()
    sizes = {"small": chosen.small, "small again": chosen.small, "large": chosen.large}
    with frozen_in_a_browser() as (browser, root):
        phones = {name: with_record(browser, root, count) for name, count in sizes.items()}
        times = {name: [] for name in phones}
        for _ in range(1 + chosen.rounds):
            for name, phone in phones.items():
                times[name].append(gone(phone, root))
    for what, of in {"median": statistics.median, "quickest": min}.items():
        told(what, sizes, {name: each_way(of, found[1:]) for name, found in times.items()})


def with_record(browser, root, count):
    """A phone that has recorded ``count`` purges and, in its second copy, all of them."""
    batches = BATCHES_OF.get(count, max(50, count // 50))
    readings = 5000 if count <= SMALL else count // 2
    phone = filled(browser, root, (10, batches, count, readings), keeps=True)
    page = phone.new_page()
    page.goto(f"{root}about/")
    purge = cellar.walked(hand.TAPS, "FV 1", state="saved")
    del purge["body"]["open"]
    page.evaluate(BESIDES, [json.loads(json.dumps(purge)), cellar.hold("FV 1"), count])
    page.evaluate(NEVER_COMPARED, f"{root}js/tankfoot.js")
    page.close()
    begun = time.monotonic()
    for _ in range(2):  # the second start tidies up what the first one has copied
        page = phone.new_page()
        page.goto(root)
        page.wait_for_function(COPIED, timeout=READ_ONCE)
        page.wait_for_timeout(SETTLED)
        page.close()
    print(f"{count} purges copied in {time.monotonic() - begun:.0f} s")
    return phone


def gone(phone, root):
    """ms of each way, by its name."""
    took = {}
    with opened(phone, root) as page:
        took["Today"] = page.evaluate("startedAt")
    with opened(phone, f"{root}record/") as page:
        took["record"] = page.evaluate("startedAt")
        took["filter: a tank"] = page.evaluate(FILTER, "first")
        page.wait_for_timeout(hand.LOOK)  # until its other rows are there
        took["filter: without a tank"] = page.evaluate(FILTER, "none")
        tank = page.evaluate("document.querySelector('#of-tank').options[1].value")
    with opened(phone, f"{root}purge/#tank={tank}") as page:
        took["purge"] = page.evaluate("startedAt")
        hand.type_readings(page)
        took["the tap that begins"] = page.evaluate(TAP, "begin")
        page.wait_for_timeout(hand.LOOK)
        took["a tap"] = page.evaluate(TAP, "all-there")
        page.evaluate(DISCARD, f"{root}js/tankfoot.js")
    return took


class opened:
    """A page of its own, slowed down: one that stays open would slow the others down."""

    def __init__(self, phone, address):
        self.page = phone.new_page()
        phone.new_cdp_session(self.page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        self.page.goto(address)
        self.page.wait_for_timeout(SETTLED)
        self.page.wait_for_function("() => window.startedAt !== undefined")

    def __enter__(self):
        return self.page

    def __exit__(self, *_):
        self.page.close()


def each_way(of, rounds):
    return {way: of(found[way] for found in rounds) for way in rounds[0]}


def told(what, sizes, found):
    small, again, large = found.values()
    print(f"{what} at {sizes['small']:,} purges, a copy of it, and at {sizes['large']:,} (goal {AT_MOST} times)")
    for way, ms in small.items():
        print(f"{way:24} {ms:7.1f} ms {again[way]:7.1f} ms {large[way]:7.1f} ms"
              f"   a copy {again[way] / ms:4.2f} times, the large one {large[way] / ms:5.2f} times")


if __name__ == "__main__":
    main()
