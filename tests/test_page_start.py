"""What a page's start must not do: it is what a hand waits for. How long it takes is told by page_start.py."""

import pytest
from browsers import PHONE
from page_start import PAGES

# Its tables are read when Intl formats for the first time, 60 ms at a 4x slow-down: as long as all scripts of a page.
ASKED = """
window.asked = [];
const isReady = () => document.querySelector("[data-ready]") !== null;
for (const name of ["NumberFormat", "DateTimeFormat", "ListFormat", "DisplayNames"]) {
  Intl[name] = new Proxy(Intl[name], { construct(made, all) {
    if (!isReady()) window.asked.push(`${name}: ${new Error().stack}`);
    return new made(...all);
  } });
}
"""


@pytest.mark.parametrize("what", PAGES)
def test_a_page_without_numbers_and_days_to_show_asks_intl_for_nothing_before_it_can_be_used(what, chromium, served):
    context = chromium.new_context(**PHONE, service_workers="block")
    context.add_init_script(ASKED)
    page = context.new_page()
    page.goto(served.address + PAGES[what])
    page.locator("[data-ready]").first.wait_for(state="attached")
    assert page.evaluate("asked") == []
    context.close()
