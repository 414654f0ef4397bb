"""What watching a glass takes of a page's thread, slowed four times: ``python tests/glass_cost.py``.

The share of its processor time while a purge runs, without the camera and with it, in Chromium on the frozen site.
"""

import tempfile
from pathlib import Path

import cellar
import films
from browsers import PHONE, Served
from playwright.sync_api import sync_playwright
from tankfoot.purge.machine import LATEST
from tankfoot.site.freezer import freeze
from test_purge_table import shortest

SLOWED = 4
SECONDS = 8.0
PARTS = {"TaskDuration": "all", "ScriptDuration": "scripts"}


def shares(browser, served, is_watched):
    context = browser.new_context(**PHONE, service_workers="block", permissions=["camera"])
    page = context.new_page()
    page.goto(served.address)
    cellar.remember(page, served, watch=True)
    purge = cellar.walked(shortest(LATEST, "run"), of="FV 1", now=cellar.moment(page.evaluate("Date.now()")))
    cellar.keep(page, served, cellar.tank("FV 1", stack=cellar.USUAL, cap_way="Bleed cap."), purge)
    page.goto(f"{served.address}purge/#go-on={purge['id']}")
    page.locator("[data-purge][data-ready]").wait_for()
    if is_watched:
        page.locator("[data-glass-on]").click()
        page.locator("[data-aim-done]").click()
    page.wait_for_timeout(1200)
    page.locator("[data-step=run] [data-event=opened]").click()
    page.wait_for_timeout(1000)
    session = context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    session.send("Performance.enable", {"timeDomain": "threadTicks"})
    before = measured(session)
    page.wait_for_timeout(1000 * SECONDS)
    after = measured(session)
    context.close()
    return {says: 100 * (after[name] - before[name]) / SECONDS for name, says in PARTS.items()}


def measured(session):
    return {each["name"]: each["value"] for each in session.send("Performance.getMetrics")["metrics"]}


def main():
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        freeze(site)
        served = Served(site)
        film = films.film(Path(folder) / "trub.y4m", films.run_of("trub")[1])
        browser = playwright.chromium.launch(**films.camera_options(playwright, film))
        for is_watched in (False, True):
            told = ", ".join(f"{says} {share:.1f} %" for says, share in shares(browser, served, is_watched).items())
            print(f"{'watched' if is_watched else 'not watched'}, {SLOWED} times slowed: {told}")
        browser.close()
        served.stop()


if __name__ == "__main__":
    main()
