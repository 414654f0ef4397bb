"""Makes the README's pictures from the app as it is: the demo's round, the run and the result of one of its purges."""

import sys
import tempfile
import threading
from pathlib import Path

from playwright.sync_api import sync_playwright
from tankfoot.site.freezer import freeze
from tankfoot.site.server import bind

ROOT = Path(__file__).parents[1]
sys.path.append(str(ROOT / "tests"))

import hand  # noqa: E402  the hand that taps through a purge is the tests'
from browsers import ARGUMENTS, chromium_options  # noqa: E402

DOCS = ROOT / "docs"
SCREEN = {"width": 390, "height": 844}
TANK = "Sample 2"
READINGS = {
    "choose": {"temperature": "36 °F"}, "sanitise": {"contact_time": "1 s"}, "pressure": {"pressure_found": "9.5 psi"},
    "gas": {"pressure_before": "10 ± 0.1 psi"},
    "after": {"pressure_after": "8.2 ± 0.1 psi", "collected_volume": "3.6 ± 0.3 gal"},
}
SECONDS = {"flowing": 62, "beer": 5}  # what goes by at a step before its tap


def main():
    """Freezes the site, opens it as a phone does and takes each picture."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        freeze(Path(folder))
        server = bind(Path(folder), 0)
        threading.Thread(target=server.serve_forever, daemon=True).start()
        options = chromium_options(playwright)
        browser = playwright.chromium.launch(**options | {"args": list(ARGUMENTS)})
        page = browser.new_context(viewport=SCREEN, has_touch=True, color_scheme="dark", locale="en-US").new_page()
        root = f"http://127.0.0.1:{server.server_port}/"
        take_a_purge(page, root)
        browser.close()
        server.shutdown()


def take(page, name):
    page.wait_for_timeout(500)
    page.screenshot(path=DOCS / f"{name}.png")


def take_a_purge(page, root):
    page.goto(f"{root}settings/")
    page.locator("#beer_value").fill("150 /bbl")
    page.goto(f"{root}record/")
    page.locator("[data-demo-load]").click()
    page.locator("[data-demo-says]:not(:empty)").wait_for()
    page.goto(f"{root}round/")
    page.locator(".round-tank").first.wait_for()
    take(page, "round")
    page.goto(root)
    tank = page.locator("[data-due] a").filter(has_text=TANK)
    hand.open_purge(page, root, "#" + tank.get_attribute("href").partition("#")[2])
    for event in hand.TAPS:
        state = hand.state(page)
        hand.type_readings(page, READINGS)
        hand.wait(page, 1000 * SECONDS.get(state, 0))
        if state == "flowing":
            take(page, "run")
        if state == "result":
            take(page, "result")
            return
        hand.tap(page, event)


if __name__ == "__main__":
    main()
