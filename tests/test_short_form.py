"""A calculator's page is short at first: what is seldom typed is folded away, and shows itself when it is spoken of."""

import pytest
from browsers import PHONE
from tankfoot.calculators import calculators

SMALL = {**PHONE, "viewport": {"width": 360, "height": 640}, "service_workers": "block"}
ONE_SCROLL = 1.5 * 640  # px: the screen that is seen and half of the next
MEASURE = """() => {
  const box = (name) => document.querySelector(name).getBoundingClientRect();
  const [answer, form] = [box(".answer"), box("form")];
  const seen = [...document.querySelectorAll("form [data-field]")].filter((field) => !field.closest("details"));
  return {
    length: form.bottom - form.top, answer: answer.height, over: answer.bottom <= form.top,
    fields: seen.map((field) => field.dataset.field),
  };
}"""


@pytest.fixture(scope="module")
def page(chromium, served):
    context = chromium.new_context(**SMALL)
    yield context.new_page()
    context.close()


def go(page, served, id, fragment=""):
    page.goto("about:blank")
    page.goto(f"{served.address}calculators/{id}/{fragment}")
    page.wait_for_selector("[data-ready]")


@pytest.mark.parametrize("id", calculators())
def test_from_the_first_input_to_the_last_is_one_scroll_of_a_thumb(id, page, served):
    go(page, served, id)
    seen = page.evaluate(MEASURE)
    assert seen["length"] <= ONE_SCROLL
    assert seen["over"]
    assert seen["answer"] < 640 / 3
    fields = calculators()[id].fields
    required = [name for name, quantity in fields.items() if quantity.required]
    assert [name for name in seen["fields"] if name in required] == required, "what must be typed is seen at once"
    assert seen["fields"]


def test_what_is_folded_away_is_known_or_may_be_left_empty():
    for id, calculator in calculators().items():
        assert set(getattr(calculator.module, "MORE", ())) <= set(calculator.fields), id
        for name, quantity in calculator.more.items():
            assert quantity.optional or quantity.defaults["us"], (id, name)


def test_a_link_that_says_a_folded_reading_unfolds_it(page, served):
    go(page, served, "purge-volume")
    beer = page.locator("#purge-volume-beer_volume")
    assert beer.is_hidden() or not beer.evaluate("input => input.closest('details').open")
    go(page, served, "purge-volume", "#beer_volume=12+bbl")
    assert beer.input_value() == "12"
    assert beer.evaluate("input => input.closest('details').open")


def test_a_problem_with_a_folded_reading_unfolds_it(page, served):
    go(page, served, "room-co2", "#released_mass=5+lb")
    rate = page.locator("#room-co2-release_rate")
    assert not rate.evaluate("input => input.closest('details').open")
    rate.evaluate("input => { input.value = 'much'; input.dispatchEvent(new Event('input', { bubbles: true })); }")
    assert rate.evaluate("input => input.closest('details').open")
    assert "Or let out at a rate" in page.locator("[data-field=release_rate] [data-problem]").inner_text()


def test_the_keyboard_goes_down_the_page(page, served):
    go(page, served, "leak-down")
    page.locator("#leak-down-headspace").focus()
    tops = []
    for _ in range(12):
        page.keyboard.press("Tab")
        tops.append(page.evaluate("() => Math.round(document.activeElement.getBoundingClientRect().top + scrollY)"))
    assert all(after >= before - 60 for before, after in zip(tops, tops[1:], strict=False))
    assert len(set(tops)) > 4
