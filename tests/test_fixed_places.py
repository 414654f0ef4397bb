"""What keeps its place while beer can run."""

import cellar
import hand
import pytest
from playwright.sync_api import expect
from tankfoot.purge.machine import LATEST
from test_purge_table import shortest


def at(page, served, *names):
    """The purge page at the step that these events lead to."""
    page.goto(served.address)
    one = cellar.tank("FV 1", stack=cellar.USUAL, cap_way="Bleed cap, a quarter turn.")
    purge = cellar.walked(names, of="FV 1", now=cellar.moment(page.evaluate("Date.now()")))
    cellar.keep(page, served, one, purge)
    return hand.open_purge(page, served.address, f"#go-on={purge['id']}")


def to(state):
    return shortest(LATEST, state)


RUNNING = {"run": (), "already-open": ("already-open",), "flowing": ("opened",), "beer": ("opened", "colour-change")}
BOX = """(selector) => {
  const box = document.querySelector(`[data-step]:not([hidden]) ${selector}`);
  const { x, y, width, height } = box.getBoundingClientRect();
  return [x, y, width, height].map(Math.round);
}"""


@pytest.mark.parametrize("size", [(360, 640), (390, 844)])
def test_closed_and_the_way_to_the_cards_keep_their_places_while_beer_can_run(phone, served, size):
    page = hand.hurry(phone.new_page())
    page.set_viewport_size({"width": size[0], "height": size[1]})
    places = set()
    for state, more in RUNNING.items():
        at(page, served, *to("run"), *more)
        assert hand.state(page) == state
        places.add(str([page.evaluate(BOX, box) for box in ("[data-event=closed]", "[data-event-link]")]))
        expect(hand.step(page).locator("[data-event=closed]")).to_be_in_viewport(ratio=1)
        expect(hand.step(page).locator("[data-event-link]")).to_be_in_viewport(ratio=1)
    assert len(places) == 1
