"""The map of docs/places.md, walked on the frozen site: each thing a hand wants is as few taps away as it says."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path
from urllib.parse import urldefrag

import cellar
import pytest
from frozen import calculator_pages, checklist_pages, pages
from playwright.sync_api import expect

TESTS = Path(__file__).parent
MAP = (TESTS.parent / "docs" / "places.md").read_text(encoding="utf-8")
ROWS = {what.strip(): int(taps) for what, taps in re.findall(r"^\| ([^|]+) \| (\d) \|$", MAP, re.MULTILINE)}
DAY = 86400.0
# A link that is seen can be tapped; one in a closed fold costs a tap more and is not followed.
LINKS = "() => [...document.querySelectorAll('a[href]')].filter((a) => a.checkVisibility()).map((a) => a.href)"
TOPS = "(all) => all.map((a) => [a.href, a.getBoundingClientRect().top])"
UP = """async (url) => {
  const { take } = await import(url);
  const { screens } = document.querySelector("[data-screens]").dataset;
  await Promise.all(screens.split(" ").map((name) => take(`${name}.js`)));
}"""


def finished(of, days_ago):
    at = cellar.instant(datetime.now(UTC) - timedelta(days=days_ago))
    made = cellar.unfinished(of, "saved", ["begin"], at)
    del made["body"]["open"]
    return made


@pytest.fixture(scope="module")
def walked(chromium, served):
    """{address from the root: taps from Today}, two taps far, in a cellar with a tank of each kind."""
    context = chromium.new_context(viewport={"width": 360, "height": 640}, has_touch=True, service_workers="block")
    page = context.new_page()
    page.goto(served.address)
    cellar.keep(
        page, served,
        cellar.tank("FV 1", purge_every=DAY), cellar.tank("FV 2"), cellar.tank("FV 3", purge_every=90 * DAY),
        cellar.tank("FV 4"), cellar.hold("FV 4"), finished("FV 1", 3), finished("FV 2", 5),
        cellar.unfinished("FV 2", "rest", ["begin"]),
    )
    found, here = {"": 0}, [""]
    for taps in (1, 2):
        links = {link for address in here for link in links_of(page, served, address)}
        here = [link for link in links if link not in found]
        found |= dict.fromkeys(here, taps)
    context.close()
    return found


def links_of(page, served, address):
    page.goto("about:blank")
    page.goto(served.address + address)
    page.evaluate(UP, served.script)
    page.wait_for_timeout(300)
    return [link.removeprefix(served.address) for link in page.evaluate(LINKS) if link.startswith(served.address)]


@pytest.fixture(scope="module")
def wanted(site):
    """{what a hand wants: the addresses where it is}, by the words of the map."""
    tanks = {name: cellar.id_of(name) for name in ("FV 1", "FV 2", "FV 3", "FV 4")}
    purges = [finished("FV 1", 3)["id"], finished("FV 2", 5)["id"]]
    return {
        "a due tank's purge": [f"purge/#tank={tanks['FV 1']}"],
        "a purge to go on with": [f"purge/#go-on={cellar.id_of('FV 2 rest')}"],
        "any tank": [f"tanks/tank/#id={id}" for id in tanks.values()],
        "any tank's purge": [f"purge/#tank={id}" for name, id in tanks.items() if name != "FV 4"],
        "the walk along the gauges": ["gauges/"],
        "what the next shift should know": ["handover/"],
        "any sum": list(calculator_pages(site).values()),
        "any list": list(checklist_pages(site).values()),
        "the rehearsals": ["rehearsal/"],
        "what all purges cost": ["cost/"],
        "what any purge cost": [f"record/entry/#id={id}" for id in purges],
        "Settings": ["settings/"],
        "About": ["about/"],
    }


def test_everything_on_the_map_is_as_near_as_it_says(walked, wanted):
    assert set(wanted) == set(ROWS)
    far = {
        (what, address): walked.get(address, "more than 2")
        for what, addresses in wanted.items() for address in addresses
        if walked.get(address, 99) > ROWS[what]
    }
    assert far == {}


def test_a_tank_out_of_use_has_no_way_to_a_purge(walked):
    assert f"purge/#tank={cellar.id_of('FV 4')}" not in walked


# The map has no row for it: it is told below the table.
def test_the_start_of_a_purge_leads_to_the_rehearsals_below_its_buttons(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}purge/")
    page.locator("[data-purge][data-ready]").wait_for()
    link = page.locator("[data-step=choose] [data-to-rehearsals]")
    assert link.bounding_box()["y"] > page.locator("[data-step=choose] [data-event=begin]").bounding_box()["y"]
    link.click()
    page.locator("[data-rehearsals][data-ready]").wait_for()
    expect(page).to_have_url(f"{served.address}rehearsal/")


def test_the_bar_holds_four_places_and_no_purge(phone, served):
    page = phone.new_page()
    page.goto(served.address)
    bar = page.locator(".places a")
    # as the map has them
    expect(bar).to_have_text(["Today", "Tanks", "Work it out", "Record"])
    for place in bar.all():
        place_name = place.inner_text()
        with page.expect_navigation():
            place.click()
        expect(page.get_by_role("heading", level=1)).to_have_text(place_name)
        expect(page.locator(".places [aria-current=page]")).to_have_text(place_name)


def test_the_cards_are_one_tap_from_every_screen(phone, served, site):
    page = phone.new_page()
    without = []
    for address in pages(site):
        page.goto(served.address + address)
        links = [urldefrag(link)[0].removeprefix(served.address) for link in page.evaluate(LINKS)]
        if not any(link.startswith("emergency/") for link in links):
            without.append(address)
    assert without == []


def test_addresses_that_were_ever_out_are_there(site):
    out = (TESTS / "fixtures" / "addresses.txt").read_text(encoding="utf-8").splitlines()
    assert len(out) > 50
    assert set(out) <= set(pages(site))


def test_settings_and_about_stand_at_the_foot_below_the_work(phone, served):
    page = phone.new_page()
    for address in ("", "tanks/", "calculators/", "checklists/", "record/"):
        page.goto(served.address + address)
        page.evaluate(UP, served.script)
        tops = page.locator("main a:visible").evaluate_all(TOPS)
        lowest = sorted(tops, key=lambda each: each[1])[-2:]
        assert {link.removeprefix(served.address) for link, _ in lowest} == {"settings/", "about/"}, address
