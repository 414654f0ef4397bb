"""The emergency cards on a phone: which number they show, how they are reached, what is seen first."""

import tomllib
from pathlib import Path

import pytest
from frozen import pages
from playwright.sync_api import expect
from tankfoot.checklists import cards, regions

SMALL_PHONE = {"width": 360, "height": 640}
REGIONS = Path(__file__).parent.parent / "site_src" / "tankfoot" / "checklists" / "en" / "regions.toml"


@pytest.fixture
def page(phone, served):
    page = phone.new_page()
    page.set_viewport_size(SMALL_PHONE)
    page.goto(f"{served.address}settings/")
    page.locator("[data-numbers-ready]").wait_for()
    return page


def card(page, served, name="co2-alarm-or-person-down"):
    page.goto(f"{served.address}emergency/{name}/")
    page.locator("main[data-ready]").wait_for()
    return page


def calls(page):
    return page.locator("[data-number]").evaluate_all("(all) => all.map((one) => one.getAttribute('href'))")


def test_without_a_region_a_card_says_so_and_how_to_set_it(page, served):
    card(page, served)
    assert calls(page) == ["tel:112", "tel:112"]
    expect(page.locator(".calls")).to_contain_text("No region is set on this phone.")
    page.locator(".calls").get_by_role("link", name="Set your number now").click()
    expect(page.locator("#region")).to_be_in_viewport()
    expect(page.locator("#region")).to_have_value("")


# 911, 999, 000: national emergency numbers, from memory.
@pytest.mark.parametrize(
    ("region", "number"), [("United States and Canada", "911"), ("United Kingdom", "999"), ("Australia", "000")],
)
def test_a_card_calls_the_number_of_the_region_that_was_set(region, number, page, served):
    page.locator("#region").select_option(region)
    card(page, served)
    assert calls(page) == [f"tel:{number}"] * 2
    expect(page.locator(".calls")).to_contain_text(f"{region}.")
    expect(page.locator(".calls")).not_to_contain_text("No region is set", use_inner_text=True)


def test_a_number_is_to_be_compared_once_and_again_when_another_is_set(page):
    check = page.locator("[data-check]")
    expect(check).to_be_hidden()
    page.locator("#region").select_option("United Kingdom")
    expect(check).to_contain_text("I compared 999 with the local number")
    page.locator("#checked").click()
    expect(check).to_be_hidden()
    page.reload()
    page.locator("[data-numbers-ready]").wait_for()
    expect(check).to_be_hidden()
    page.locator("#region").select_option("Japan")
    expect(check).to_contain_text("I compared 119 with the local number")
    expect(page.locator("[data-region-source]")).to_contain_text("From memory")


# RFC 3966, tel URI: visual separators carry no meaning; 01632 960 and 07700 900 are numbers for drama (Ofcom).
def test_the_sites_own_numbers_and_its_address_stand_beneath_the_call(page, served):
    page.locator("#site-name").fill("Invented Brewing")
    page.locator("#site-address").fill("Unit 4, gate B")
    for place, (who, number) in enumerate([("Site safety", "01632 960 001"), ("Owner", "+44 (7700) 900-123")], 1):
        page.locator(f"#own-label-{place}").fill(who)
        page.locator(f"#own-number-{place}").fill(number)
    page.locator("#own-number-3").fill("call me")
    expect(page.locator("#own-problem-3")).to_contain_text("cannot be dialled")
    card(page, served)
    own = page.locator(".calls .own-number")
    assert own.evaluate_all("(all) => all.map((one) => one.getAttribute('href'))") == [
        "tel:01632960001", "tel:+447700900123",
    ]
    expect(own.first).to_contain_text("Site safety 01632 960 001")
    expect(page.locator(".calls")).to_contain_text("We are at: Invented Brewing, Unit 4, gate B")


def test_the_cards_are_one_tap_from_every_page(served, site):
    for address in pages(site):
        text = (site / address / "index.html").read_text(encoding="utf-8")
        root = "../" * address.count("/")
        assert f'<a class="trouble" href="{root}emergency/">' in text or address.startswith("emergency/"), address


def test_all_cards_are_seen_at_once_on_a_small_phone(page, served):
    page.goto(f"{served.address}emergency/")
    page.locator("main[data-ready]").wait_for()
    bar = page.locator(".places").bounding_box()["y"]
    tiles = page.locator(".card-tiles a")
    expect(tiles).to_have_count(len(cards()))
    assert all(tile.bounding_box()["y"] + tile.bounding_box()["height"] <= bar for tile in tiles.all())


# 28 px is 4.5 mm on a phone, readable at 0.7 m by the rule of 1 in 200 of the distance (common practice, no source).
@pytest.mark.parametrize("name", cards())
def test_the_first_act_is_large_and_above_the_fold_with_the_number(name, page, served):
    card(page, served, name)
    act = page.locator(".acts li").first
    assert float(act.locator("strong").first.evaluate("(one) => parseFloat(getComputedStyle(one).fontSize)")) >= 28
    box = act.bounding_box()
    assert box["y"] + box["height"] <= page.locator(".places").bounding_box()["y"]
    expect(page.locator("header [data-number]")).to_be_in_viewport()


def test_every_region_says_where_its_number_is_from():
    data = tomllib.loads(REGIONS.read_text(encoding="utf-8"))
    assert len(data["regions"]) == len(regions()) == 17
    assert all("from memory" in region["source"].lower() or "http" in region["source"] for region in data["regions"])


def shown_sources(page, served, name):
    page.goto(f"{served.address}checklists/{name}/")
    page.locator("main[data-ready]").wait_for()
    return " ".join(page.locator("[data-source]").all_text_contents())


# NIOSH 30,000 ppm and HSE EH40 15,000 ppm for 15 minutes: regions.toml, with what each is from.
def test_a_list_and_a_card_show_the_limits_and_the_eyewash_of_the_region_alone(page, served):
    page.locator("#region").select_option("United Kingdom")
    expect(page.locator("#region ~ .help").last).to_contain_text("15,000 ppm for 15 minutes")
    told = shown_sources(page, served, "before-opening-the-bottom-port")
    assert "15,000 ppm" in told and "30,000 ppm" not in told
    assert "ANSI" not in shown_sources(page, served, "peracetic-acid")
    rests = card(page, served, "chemical-splash").locator(".rests").text_content()
    assert "BS EN 15154" in rests and "ANSI" not in rests


def test_without_a_region_all_limits_stand_there_by_name(page, served):
    told = shown_sources(page, served, "gas-hook-up")
    assert all(name in told for name in ("US: NIOSH", "UK: HSE", "EU: Directive 2006/15/EC"))


# 12 °C is 53 °F (NIOSH Pocket Guide, isopropyl alcohol); 1 psi = 6.894757 kPa (NIST SP 811).
@pytest.mark.parametrize(("system", "flash", "weight"), [("us", "53 °F", "1.4 psi"), ("metric", "12 °C", "0.099 bar")])
def test_units_in_a_list_follow_the_setting(system, flash, weight, page, served):
    page.locator(f"[name=system][value={system}]").evaluate("(one) => one.click()")
    if system != "us":  # which holds already
        expect(page.get_by_text("Kept on this phone.").first).to_be_visible()
    assert f"flash point {flash}" in shown_sources(page, served, "isopropyl-alcohol")
    page.goto(f"{served.address}checklists/before-opening-the-bottom-port/")
    page.locator("main[data-ready]").wait_for()
    rated = page.locator(".line", has=page.locator("[data-line=stack-rated]"))
    assert weight in rated.locator("[data-why]").text_content()


def test_today_asks_for_the_region_until_it_is_set(page, served):
    page.goto(served.address)
    page.locator("[data-today][data-ready]").wait_for()
    asks = page.locator("main [data-no-region]")
    expect(asks).to_contain_text("Where are you?")
    asks.get_by_role("link").click()
    expect(page.locator("#region")).to_be_in_viewport()
    page.wait_for_load_state()  # until then it does not listen
    page.locator("#region").select_option("European Union")
    page.go_back()
    page.locator("[data-today][data-ready]").wait_for()
    expect(asks).to_be_hidden()


def test_a_copy_of_a_list_follows_the_region_of_the_phone_that_reads_it(page, served):
    page.goto(f"{served.address}checklists/gas-hook-up/")
    page.locator("main[data-ready]").wait_for()
    page.get_by_role("button", name="Copy and adapt").click()
    page.locator("[data-own-edit][data-ready]").wait_for()
    page.locator("[data-save]").click()
    page.wait_for_url("**/own/#id=*")
    page.locator("[data-own-list][data-ready]").wait_for()
    own = page.url
    page.goto(f"{served.address}settings/")
    page.locator("#region").select_option("United Kingdom")
    page.goto(own)
    page.locator("[data-own-list][data-ready]").wait_for()
    told = " ".join(page.locator("[data-source]").all_text_contents())
    assert "15,000 ppm" in told and "30,000 ppm" not in told
