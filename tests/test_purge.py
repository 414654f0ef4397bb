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


def begin(page):
    entry(page, "headspace").fill("3")
    entry(page, "temperature").fill("36")
    tap(page, "begin")
    expect(step(page)).to_have_attribute("data-step", "ready")


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
    begin(purge)
    purge.reload()
    purge.wait_for_selector("[data-purge][data-ready]")
    purge.locator("[data-go-on]").click()
    expect(step(purge)).to_have_attribute("data-step", "ready")



def test_from_the_emergency_cards_a_button_below_the_acts_leads_back_to_the_step(purge, served):
    purge.goto(f"{served.address}emergency/uncontrolled-discharge/")
    expect(purge.get_by_role("heading", level=1)).to_be_visible()
    expect(purge.locator("[data-back-to-purge]")).to_be_hidden()
    purge.goto(f"{served.address}purge/")
    begin(purge)
    tap(purge, "all-there")
    expect(step(purge)).to_have_attribute("data-step", "sanitise")
    purge.get_by_role("link", name="It went wrong").click()
    purge.set_viewport_size({"width": 360, "height": 640})
    expect(purge.get_by_role("link", name="Back to the purge")).to_be_visible()
    purge.locator(".card-tiles a").first.click()
    back = purge.get_by_role("link", name="Back to the purge")
    expect(back).to_be_in_viewport()
    first_act = purge.locator(".acts li").first.bounding_box()
    assert back.bounding_box()["y"] >= first_act["y"] + first_act["height"]
    back.click()
    purge.wait_for_selector("[data-purge][data-ready]")
    expect(step(purge)).to_have_attribute("data-step", "sanitise")
