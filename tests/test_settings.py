"""The values of the settings page: each is read as the sum that asks for it reads it, and kept at once."""

import pytest
from browsers import PHONE
from playwright.sync_api import expect
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.purge.machine import GAS_FIRST, LATEST
from tankfoot.wording import problem_sentence


@pytest.fixture(scope="module")
def page(chromium, served):
    context = chromium.new_context(**PHONE, service_workers="block")
    page = context.new_page()
    page.goto(f"{served.address}settings/")
    expect(page.locator("#air_pressure-used")).not_to_be_empty()
    yield page
    context.close()


# Each field of the page and the sum that declares it; one text that is no quantity of its kind, one out of its limits.
@pytest.mark.parametrize("text", ["much", "5 kg", "-1e6"])
@pytest.mark.parametrize(
    ("name", "id"),
    [("altitude", "air-pressure"), ("air_pressure", "purge-volume"), ("beer_value", "purge-volume"),
     ("room_volume", "room-co2"), ("air_changes", "room-co2")],
)
def test_a_value_that_a_sum_would_refuse_is_refused_with_its_sentence(name, id, text, page):
    page.locator(f"#{name}").fill(text)
    (problem,) = [problem for field, problem in reckon(calculators()[id], {name: text}).problems if field == name]
    expect(page.locator(f"#{name}-problem")).to_have_text(problem_sentence(id, name, problem))
    page.locator(f"#{name}").fill("")
    expect(page.locator(f"#{name}-problem")).to_have_text("")


# ISO 2533:1975, table by geometric altitude: 79,501 Pa at 2,000 m (from memory).
def test_an_altitude_is_kept_as_the_pressure_of_its_air(page):
    page.locator("#altitude").fill("2000 m")
    kept = page.evaluate("JSON.parse(localStorage.getItem('tankfoot-settings')).values.air_pressure")
    number, unit = kept.split()
    assert unit in ("kPa", "psi", "mbar")
    assert float(number) * {"kPa": 1000.0, "psi": 6894.757, "mbar": 100.0}[unit] == pytest.approx(79501.0, rel=1e-3)


def test_initials_and_the_order_of_a_purge_are_kept_and_a_new_purge_follows_them(page, served):
    kept = "JSON.parse(localStorage.getItem('tankfoot-settings'))"
    table = """async (url) => (await import(url)).take("browser/purge/run.js").freshPurge(null).body.table"""
    page.locator("#initials").fill(" AB ")
    page.locator("#gas_first").check()
    said = page.evaluate(kept)
    assert (said["initials"], said["gas_first"]) == ("AB", True)
    page.reload()
    expect(page.locator("#gas_first")).to_be_checked()
    expect(page.locator("#initials")).to_have_value("AB")
    assert page.evaluate(table, served.script) == GAS_FIRST
    page.locator("#gas_first").uncheck()
    assert page.evaluate(table, served.script) == LATEST
