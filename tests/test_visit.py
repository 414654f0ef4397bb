"""What a person sees on every page of the frozen site, with and without JavaScript."""

from dataclasses import dataclass, field

import pytest
from browsers import PHONE
from frozen import calculator_pages, checklist_pages, pages
from tankfoot.checklists import cards, checklists


@dataclass
class Visit:
    """What came up while every page was opened once on a phone."""

    asked: list = field(default_factory=list)
    complaints: list = field(default_factory=list)
    too_wide: list = field(default_factory=list)
    too_small: list = field(default_factory=list)


@pytest.fixture(scope="module")
def visit(chromium, served, site):
    """A walk through all pages, with their folds open."""
    found = Visit()
    context = chromium.new_context(**PHONE)
    context.on("request", lambda request: found.asked.append(request.url))
    context.on("weberror", lambda wrong: found.complaints.append(str(wrong.error)))
    context.on("console", lambda line: found.complaints.append(line.text) if line.type == "error" else None)
    page = context.new_page()
    for address in [*pages(site), "404.html"]:
        page.goto(served.address + address)
        page.evaluate("() => document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        found.too_small += [(address, small) for small in page.evaluate(TOO_SMALL)]
        found.too_wide += [(address, *wide) for wide in _too_wide(page)]
    context.close()
    return found


WIDTHS = ((320, "100%"), (360, "100%"), (390, "100%"), (360, "200%"))  # of the screen in CSS px, of the text
WIDER_THAN_THE_SCREEN = """(textSize) => {
  const root = document.documentElement;
  root.style.fontSize = textSize;
  return root.scrollWidth - root.clientWidth;
}"""


def _too_wide(page):
    for width, text_size in WIDTHS:
        page.set_viewport_size({"width": width, "height": 844})
        beyond = page.evaluate(WIDER_THAN_THE_SCREEN, text_size)
        if beyond > 0:
            yield width, text_size, beyond
    page.evaluate(WIDER_THAN_THE_SCREEN, "100%")


# A link inside a sentence is as high as its line: WCAG 2.2, 2.5.8, exception "inline".
TOO_SMALL = """() => [...document.querySelectorAll("a, button, summary, input, select, textarea")]
  .filter((one) => one.checkVisibility() && !one.matches(".skip, [type=file], [type=hidden]"))
  .filter((one) => !(one.matches("p a, li a, dd a") && getComputedStyle(one).display === "inline"))
  .map((one) => {
    const target = one.matches("[type=radio], [type=checkbox]") ? one.closest("label") ?? one : one;
    const { width, height } = target.getBoundingClientRect();
    const least = one.matches("button, input, select, textarea") ? 56 : 44;
    return { what: one.outerHTML.slice(0, 90), width, height, least };
  })
  .filter(({ width, height, least }) => Math.min(width, height) < least - 0.5)"""


def test_every_page_asks_this_origin_only(visit, served, site):
    assert len(visit.asked) > len(pages(site))
    assert [url for url in visit.asked if not url.startswith((served.address, "blob:", "data:"))] == []


def test_no_page_complains(visit):
    assert visit.complaints == []


def test_no_page_is_wider_than_the_screen(visit):
    assert visit.too_wide == []


def test_every_target_can_be_hit_with_a_thumb(visit):
    # Source: design, 56 px for form controls; WCAG 2.2, 2.5.5 (AAA): 44 px for all else.
    assert visit.too_small == []


SHOWN = """() => Object.fromEntries([...document.querySelectorAll("main [data-result]")].map((place) =>
  [place.dataset.result, [".name", "[data-text]", "[data-spread]"]
    .map((part) => place.querySelector(part).textContent.trim()).join(" | ")]
))"""
REMARKS = "() => document.querySelector('[data-remarks]').textContent.replace(/\\s+/g, ' ').trim()"
TYPED = "() => [...document.querySelectorAll('main [data-entry]')].map((entry) => entry.value)"
UNITS = "() => [...document.querySelectorAll('main [data-unit]')].map((unit) => unit.value)"


def test_the_script_shows_what_was_frozen_to_the_character(chromium, served, site):
    without = chromium.new_context(java_script_enabled=False)
    with_script = chromium.new_context(service_workers="block")
    frozen, live = without.new_page(), with_script.new_page()
    assert calculator_pages(site)
    for address in calculator_pages(site).values():
        frozen.goto(served.address + address)
        live.goto(served.address + address)
        live.locator("main[data-ready]").wait_for()
        for look in (SHOWN, REMARKS, TYPED, UNITS):
            assert frozen.evaluate(look) == live.evaluate(look), address
    without.close()
    with_script.close()


def test_every_checklist_and_card_can_be_read_without_javascript(chromium, served, site):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    for id, address in checklist_pages(site).items():
        page.goto(served.address + address)
        text = page.locator("main").inner_text()
        for part in checklists()[id].parts:
            for line in part.lines:
                assert line.act in text and line.value in text, (id, line.id)
    for id, card in cards().items():
        page.goto(f"{served.address}emergency/{id}/")
        text = page.locator("main").inner_text()
        assert all(act.act in text for act in card.acts)
        assert all(advice.line in text for advice in (*card.never, *card.then))
    context.close()
