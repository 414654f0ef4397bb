"""What "What it cost" costs: ``python tests/cost_page.py`` opens it with records of all sizes, at a 4x slow-down, on
phones that keep the app.

Prints the median ms, and the least, until its first figures and until the whole record is read: the first time, when
every month is read from its entries, later, and after a purge, when one month is. Budgets stand beside them; a copy of
the smallest record shows what is noise.
"""

import argparse
import statistics

from budgets import SETTLED
from today_cost import SLOWER, filled, frozen_in_a_browser

RECORDS = {
    "1,000 purges": (10, 50, 1000, 0), "the same again": (10, 50, 1000, 0),
    "5,000 purges": (10, 50, 5000, 0), "100,000 purges": (10, 50, 100_000, 0),
}
BUDGETS = {"5,000 purges": 700, "100,000 purges": 2500}  # ms
FORGET = """async ([url, isAll]) => {
  const { withStore } = (await import(url)).take("browser/storage/database.js");
  const { forgetAllFacts, forgetFacts } = (await import(url)).take("browser/storage/facts_kept.js");
  const purge = { kind: "purge", created: new Date().toISOString() };
  const forget = (store) => (isAll ? forgetAllFacts(store) : forgetFacts(store, purge));
  await withStore("readwrite", forget, ["entries", "memory"]);
}"""
TIMES = {"the first time": True, "later": None, "after a purge": False}  # whether all is forgotten before, or a month


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--rounds", type=int, default=5, help="how often each is opened")
    options.add_argument("--some", action="store_true", help="without the record of 100,000 purges")
    chosen = options.parse_args()
    records = {what: sizes for what, sizes in RECORDS.items() if not (chosen.some and sizes[2] > 20_000)}
    with frozen_in_a_browser() as (browser, root):
        phones = {what: filled(browser, root, sizes, keeps=True) for what, sizes in records.items()}
        times = {(what, when): [] for what in phones for when in TIMES}
        for _ in range(chosen.rounds):
            for what, phone in phones.items():
                for when, is_all in TIMES.items():
                    if is_all is not None:
                        forget(phone, root, is_all)
                    times[what, when].append(opened(phone, root))
    for (what, when), found in times.items():
        shown, whole = (f"{statistics.median(each):.0f} ({min(each):.0f})" for each in zip(*found, strict=True))
        budget = f", budget {BUDGETS[what]}" if what in BUDGETS else ""
        print(f"{what}, {when}: first figures {shown} ms, all read {whole} ms{budget}")


def forget(phone, root, is_all):
    page = phone.new_page()
    page.goto(root + "about/")
    page.evaluate(FORGET, [root + "js/tankfoot.js", is_all])
    page.close()


def opened(phone, root):
    """(ms until the first figures, ms until all is read) from the start of the page's loading."""
    page = phone.new_page()
    page.set_default_timeout(120_000)
    phone.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    page.goto(root + "cost/", wait_until="commit")
    page.wait_for_timeout(SETTLED)
    page.wait_for_selector("[data-cost][data-ready=whole]", state="attached")
    told = page.evaluate("[...performance.getEntriesByType('mark')].map(({ name, startTime }) => [name, startTime])")
    page.close()
    return tuple(dict(told)[name] for name in ("cost-shown", "cost-whole"))


if __name__ == "__main__":
    main()
