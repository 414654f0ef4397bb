"""What a page's start must not do: it is what a hand waits for. How long it takes is told by page_start.py."""

import pytest
from browsers import PHONE
from page_start import PAGES

# ICU reads its tables when Intl is asked for the first time, 60 ms on a slow phone: as long as all scripts of a page.
ASKED = """
window.asked = [];
const isReady = () => document.querySelector("[data-ready]") !== null;
for (const name of ["NumberFormat", "DateTimeFormat", "PluralRules", "ListFormat", "DisplayNames", "Collator"]) {
  Intl[name] = new Proxy(Intl[name], { construct(made, all) {
    if (!isReady()) window.asked.push(`${name}: ${new Error().stack}`);
    return new made(...all);
  } });
}
"""
COUNTS_AT_ONCE = {"a list"}  # says how many of its lines are left


@pytest.mark.parametrize("what", [what for what in PAGES if what not in COUNTS_AT_ONCE])
def test_a_page_without_numbers_and_days_to_show_asks_intl_for_nothing_before_it_can_be_used(what, chromium, served):
    context = chromium.new_context(**PHONE, service_workers="block")
    context.add_init_script(ASKED)
    page = context.new_page()
    page.goto(served.address + PAGES[what])
    page.locator("[data-ready]").first.wait_for(state="attached")
    assert page.evaluate("asked") == []
    context.close()
