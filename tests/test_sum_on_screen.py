"""A sum on the phone: answered while it is typed, units changed, refused in words, sent on."""

import re

from playwright.sync_api import expect


def calculator(page, served, id, fragment=""):
    page.goto(f"{served.address}calculators/{id}/{fragment}")
    page.locator("main[data-ready]").wait_for()


def entry(page, name):
    return page.locator(f"[data-field={name}] [data-entry]")


def unit(page, name):
    return page.locator(f"[data-field={name}] [data-unit]")


def shown(page, name):
    return page.locator(f"[data-result={name}] [data-text]")


def test_each_keystroke_is_answered(phone, served):
    page = phone.new_page()
    calculator(page, served, "colour-change-saving")
    for name in ("overrun_usual", "overrun_now", "flow"):
        entry(page, name).fill("0")
    assert page.locator("form [type=submit]").count() == 0
    entry(page, "overrun_usual").fill("60")
    entry(page, "flow").focus()
    # Source: by hand, 1, 12 and 12.5 gal/min for one minute.
    for key, text in (("1", "1"), ("2", "12"), (".", "12"), ("5", "12.5")):
        page.keyboard.type(key)
        expect(shown(page, "saved_per_purge")).to_have_text(re.compile(rf"{re.escape(text)}(\.?0*) gal"))


def test_a_refused_text_is_said_at_its_field_and_leaves_no_number(phone, served):
    page = phone.new_page()
    calculator(page, served, "purge-volume")
    entry(page, "headspace").fill("abc")
    expect(page.locator("[data-field=headspace] [data-problem]")).to_contain_text("Headspace")
    expect(entry(page, "headspace")).to_have_attribute("aria-invalid", "true")
    expect(shown(page, "volume_lost")).to_have_text("–")


def test_another_unit_keeps_the_typed_number_and_is_remembered(phone, served):
    page = phone.new_page()
    calculator(page, served, "purge-volume")
    entry(page, "headspace").fill("300")
    unit(page, "headspace").select_option("L")
    expect(entry(page, "headspace")).to_have_value("300")
    calculator(page, served, "co2-top-up")
    expect(unit(page, "headspace")).to_have_value("L")


def test_another_system_turns_the_numbers_and_is_remembered(phone, served):
    page = phone.new_page()
    calculator(page, served, "purge-volume")
    entry(page, "headspace").fill("10")
    page.locator("[name=system][value=metric]").check(force=True)
    expect(unit(page, "headspace")).to_have_value("hL")
    # Source: by hand, 10 US beer barrels of 31 gal of 3.785411784 L are 11.7348 hL (27 CFR 25.11).
    expect(entry(page, "headspace")).to_have_value("11.735")
    calculator(page, served, "co2-top-up")
    expect(unit(page, "headspace")).to_have_value("hL")
    expect(page.locator("[name=system][value=metric]")).to_be_checked()


def test_the_address_brings_a_sum_back(phone, served, chromium):
    page = phone.new_page()
    calculator(page, served, "colour-change-saving")
    for name, number in {"flow": "7", "overrun_usual": "60", "overrun_now": "0"}.items():
        entry(page, name).fill(number)
    text, fragment = shown(page, "saved_per_purge").inner_text(), "#" + page.url.partition("#")[2]
    # Source: by hand, 7 gal/min for a minute.
    assert re.fullmatch(r"7(\.0+)? gal", text)
    page.reload()
    expect(shown(page, "saved_per_purge")).to_have_text(text)
    elsewhere = chromium.new_page()
    calculator(elsewhere, served, "colour-change-saving", fragment)
    expect(shown(elsewhere, "saved_per_purge")).to_have_text(text)
    expect(entry(elsewhere, "flow")).to_have_value("7")
    elsewhere.close()
