"""Every kind of page for everybody: axe-core's rules in dark and in light, and the keyboard alone."""

import pytest
from axe_core_python.base import AXE_SCRIPT
from browsers import PHONE
from frozen import one_page_of_each_kind
from playwright.sync_api import expect

# WCAG 2.2 A and AA as axe tags them, and its own best practices; contrast at 7:1 too (1.4.6, as the design asks).
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
CONTRAST = ["color-contrast", "color-contrast-enhanced"]
# Resolves once every screen that the page names has set itself up.
SCREENS_ARE_UP = """async (url) => {
  const { take } = await import(url);
  const { screens } = document.querySelector("[data-screens]").dataset;
  await Promise.all(screens.split(" ").map((name) => take(`${name}.js`)));
}"""
RUN_AXE = """async ([tags, rules]) => {
  const contrast = Object.fromEntries(rules.map((rule) => [rule, { enabled: true }]));
  const options = tags.length
    ? { runOnly: { type: "tag", values: tags }, rules: contrast }
    : { runOnly: { type: "rule", values: rules } };
  const { passes, violations } = await axe.run(document, options);
  return {
    passed: passes.map((rule) => rule.id),
    found: violations.flatMap((rule) => rule.nodes.map((node) => [rule.id, node.html.slice(0, 120)])),
  };
}"""


@pytest.fixture(scope="module")
def axe_reports(chromium, served, site):
    """{(address, light): what axe found}; by light only the contrasts can differ."""
    context = chromium.new_context(**PHONE, service_workers="block")
    page = context.new_page()
    reports = {}
    for address in one_page_of_each_kind(site):
        page.emulate_media(color_scheme="dark")
        page.goto(served.address + address)
        page.evaluate(SCREENS_ARE_UP, served.script)
        page.evaluate("() => document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        page.evaluate(AXE_SCRIPT)
        for light, tags in (("dark", RULES), ("light", [])):
            page.emulate_media(color_scheme=light)
            expect(page.locator("html")).to_have_attribute("data-theme", light)
            reports[address, light] = page.evaluate(RUN_AXE, [tags, CONTRAST])
    context.close()
    return reports


def test_axe_finds_nothing_on_any_kind_of_page_in_dark_and_in_light(axe_reports):
    assert {place: report["found"] for place, report in axe_reports.items() if report["found"]} == {}


def test_axe_looked_at_what_matters(axe_reports):
    passed = {rule for report in axe_reports.values() for rule in report["passed"]}
    assert {*CONTRAST, "label", "html-has-lang", "link-name", "button-name", "document-title", "region"} <= passed


REACHABLE = """() => [...document.querySelectorAll("a[href], button, input, select, textarea, summary")]
  .filter((one) => one.checkVisibility() && !one.matches(":disabled, [type=hidden]"))
  .filter((one) => !(one.matches("[type=radio]") && !one.checked))
  .map((one, i) => { one.dataset.stop = String(i); return String(i); })"""

# The ring that shows where the keyboard is: on the control itself, or for a hidden radio on its label's text.
FOCUSED = """() => {
  const one = document.activeElement;
  const drawn = one.matches("[type=radio], [type=checkbox]") ? [one, one.nextElementSibling ?? one] : [one];
  const ring = drawn.some((each) => {
    const style = getComputedStyle(each);
    return style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
  });
  const box = one.getBoundingClientRect();
  const bar = document.querySelector(".places").getBoundingClientRect();
  const covered = !one.closest(".places") && box.top >= bar.top;
  return { stop: one.dataset.stop, ring, covered, what: one.outerHTML.slice(0, 100) };
}"""


KEYBOARD_PAGES = ["", "calculators/purge-volume/", "checklists/before-breaking-a-clamp/", "settings/"]


@pytest.mark.parametrize("address", KEYBOARD_PAGES)
def test_the_keyboard_reaches_everything_and_shows_where_it_is(address, chromium, served):
    context = chromium.new_context(**PHONE, service_workers="block")
    page = context.new_page()
    page.goto(served.address + address)
    page.evaluate(SCREENS_ARE_UP, served.script)
    wanted = page.evaluate(REACHABLE)
    stops = []
    for _ in range(len(wanted) + 5):
        page.keyboard.press("Tab")
        stops.append(page.evaluate(FOCUSED))
    context.close()
    reached = [stop["stop"] for stop in stops if stop["stop"] is not None]
    assert reached[: len(wanted)] == wanted
    assert [stop["what"] for stop in stops if stop["stop"] and not stop["ring"]] == []
    assert [stop["what"] for stop in stops if stop["covered"]] == []
