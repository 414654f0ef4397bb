"""The guided purge on a phone's screen, as a hand walks it."""

import pytest
from playwright.sync_api import expect


@pytest.fixture
def purge(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}purge/")
    page.wait_for_selector("[data-purge][data-ready]")
    return page


def step(page):
    return page.locator("[data-step]:visible")


def entry(page, name):
    return step(page).locator(f"[data-field={name}] [data-entry]")


def tap(page, event):
    step(page).locator(f"[data-event={event}]").click()


def test_nothing_is_scolded_before_it_is_tapped_past(purge):
    problem = step(purge).locator("[data-field=headspace] [data-problem]")
    expect(problem).to_be_empty()
    tap(purge, "begin")
    expect(problem).to_contain_text("Headspace")
    expect(step(purge)).to_have_attribute("data-step", "choose")


def test_the_sign_of_a_cold_reading_turns(purge):
    entry(purge, "temperature").fill("1")
    step(purge).locator("[data-field=temperature] [data-flip]").click()
    expect(entry(purge, "temperature")).to_have_value("−1")


def test_a_purge_is_found_again_after_a_reload(purge):
    entry(purge, "headspace").fill("3")
    entry(purge, "temperature").fill("36")
    tap(purge, "begin")
    expect(step(purge)).to_have_attribute("data-step", "ready")
    purge.reload()
    purge.wait_for_selector("[data-purge][data-ready]")
    purge.locator("[data-go-on]").click()
    expect(step(purge)).to_have_attribute("data-step", "ready")
