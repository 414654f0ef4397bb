"""What a phone remembers beside the record: "kept" is true once it is said, and what is spoilt breaks no page."""

import json

import pytest
from frozen import pages
from playwright.sync_api import expect

# At once after the word, as a phone does that runs out of memory.
SAID = """() => new Promise((done) => {
  const place = document.querySelector("[data-saved]");
  const look = () => { if (place.textContent.includes("Kept on this phone.")) done(); else setTimeout(look, 1); };
  look();
})"""
PUT = """async ([url, text]) => {
  localStorage.setItem("tankfoot-settings", text);
  localStorage.setItem("tankfoot-list-draft", text);
  localStorage.setItem("tankfoot-card", text);
  const { withStore } = (await import(url)).take("browser/storage/database.js");
  for (const key of ["tankfoot-settings", "tankfoot-list-draft", "tankfoot-card"]) {
    await withStore("readwrite", (store) => store.put(JSON.parse(text), key), "memory");
  }
}"""
NONSENSE = [
    None, 7, "abc", True, [], {}, [None], {"a": None}, {"name": 5, "numbers": {}}, {"numbers": [None]},
    {"constructor": 1},
]
MEMBERS = [
    "system", "theme", "currency", "altitude", "units", "values", "tank", "initials", "gas_first", "region", "checked",
    "tone", "buzz", "aloud", "watch", "contact_limit", "every_step", "one_step",
    "site", "of", "base", "list", "opened", "writes",
]
UNREADABLE = {
    "values": {"air_pressure": "abc", "beer_value": "5 kg", "headspace": "", "room_volume": "1e999 m³"},
    "units": {"temperature": "constructor", "tank_volume": "furlong"},
    "tank": {"id": "constructor", "name": "<b>", "values": {"headspace": "abc", "temperature": "9e99 °F"}},
    "of": "", "list": {"parts": [{"lines": [{"act": 7}, {}]}]}, "base": {"parts": [{"lines": [None]}]},
    "site": {"name": "\u0000", "address": "x" * 5000, "numbers": [{"label": "", "number": "javascript:alert(1)"}] * 9},
}


def test_settings_and_a_draft_survive_a_kill_right_after_the_word(own_chromium, served):
    names = ["Cellar One", "Cellar Two", "Cellar Three"]
    for before, name in zip([None, *names], names, strict=False):
        page = own_chromium.start().new_page()
        page.goto(f"{served.address}settings/")
        expect(page.locator("#site-name")).to_have_value(before or "")
        page.locator("#site-name").fill(name)
        page.evaluate(SAID)
        own_chromium.kill()
    page = own_chromium.start().new_page()
    page.goto(f"{served.address}settings/")
    expect(page.locator("#site-name")).to_have_value(names[-1])


@pytest.mark.parametrize("place", range(len(NONSENSE) + 1))
def test_spoilt_settings_break_no_page(place, keeping_phone, site, served):
    spoilt = dict.fromkeys(MEMBERS, NONSENSE[place]) if place < len(NONSENSE) else UNREADABLE
    page, thrown = keeping_phone.new_page(), []
    page.on("pageerror", lambda error: thrown.append((page.url, str(error))))
    page.goto(served.address)
    page.evaluate(PUT, [served.script, json.dumps(spoilt | {"writes": 3})])
    every = pages(site)
    for address in every[place :: len(NONSENSE) + 1]:
        page.goto(served.address + address)
        page.wait_for_load_state("networkidle")
    assert thrown == []


@pytest.mark.parametrize("text", ["null", "[]", "7", '"x"', "{", ""])
def test_a_spoilt_copy_gives_way_to_what_the_database_knows(text, phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}settings/")
    page.locator("#site-name").fill("Cellar One")
    page.evaluate(SAID)
    page.evaluate("(text) => localStorage.setItem('tankfoot-settings', text)", text)
    page.goto(f"{served.address}settings/")
    expect(page.locator("#site-name")).to_have_value("Cellar One")


def test_what_two_windows_keep_is_kept_of_both(phone, served):
    first, second = phone.new_page(), phone.new_page()
    for page in (first, second):
        page.goto(f"{served.address}settings/")
        expect(page.locator("#air_pressure-used")).not_to_be_empty()
    first.locator("#site-name").fill("Cellar One")
    first.evaluate(SAID)
    second.locator("#initials").fill("AB")
    second.evaluate(SAID)
    first.reload()
    expect(first.locator("#site-name")).to_have_value("Cellar One")
    expect(first.locator("#initials")).to_have_value("AB")
