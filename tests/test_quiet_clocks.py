"""A clock on the purge page writes what has changed and nothing else: a phone draws anew whatever is written."""

import cellar
import pytest
from tankfoot.purge.machine import LATEST, tables
from test_purge_table import shortest

SECONDS = 3
TICKING = [state for state, step in tables()[LATEST].items() if set(step.has) & {"stopwatch", "countdown", "count"}]
WRITTEN = """(ms) => new Promise((then) => {
  const found = [];
  const observer = new MutationObserver((changes) => found.push(...changes.map(({ target, attributeName }) => (
    `${attributeName ?? "text"} of ${Object.keys((target instanceof Element ? target : target.parentElement).dataset)}`
  ))));
  observer.observe(document, { subtree: true, childList: true, characterData: true, attributes: true });
  setTimeout(() => { observer.disconnect(); then(found); }, ms);
})"""


@pytest.mark.parametrize("state", TICKING)
def test_a_clock_writes_once_a_second_and_nothing_beside(phone, served, state):
    page = phone.new_page()
    page.goto(served.address)
    now = cellar.moment(page.evaluate("Date.now()"))
    purge = cellar.walked(shortest(LATEST, state), of="FV 1", now=now, readings={"flow": "2 gal/min"})
    cellar.keep(page, served, cellar.tank("FV 1", stack=cellar.USUAL, cap_way="Bleed cap."), purge)
    page.goto(f"{served.address}purge/#go-on={purge['id']}")
    page.locator("[data-purge][data-ready]").wait_for()
    page.wait_for_timeout(1000)
    written = page.evaluate(WRITTEN, 1000 * SECONDS)
    assert {what for what in written if not what.startswith("text of ")} == set()
    assert all(written.count(what) <= SECONDS + 1 for what in written)
