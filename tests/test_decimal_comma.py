"""A comma or a point, as the phone's region writes numbers: shown so, typed so, and in the record always a point."""

import json
import re

import cellar
import hand
import pytest
from playwright.sync_api import expect
from speakers import show, speaker
from tankfoot.wording import words
from test_record import READ, REAL

# Unicode CLDR, numbers: the decimal sign of es-AR is a comma, of es-MX, es-US and en-US a point.
LOCALES = ("es-AR", "es-MX", "en-US")
OTHER_SIGN = str.maketrans(".,", ",.")


@pytest.fixture(params=LOCALES)
def at(request, chromium, served):
    """A phone of a region: its page, its site, and a number as it is written there."""
    made = speaker(chromium, served, request.param)
    made.here = lambda text: text.translate(OTHER_SIGN) if request.param == "es-AR" else text
    yield made
    made.context.close()


def put(at, *entries):
    show(at, "about/")
    cellar.keep(at.page, at.site, *entries)


def kept(at, kind):
    found = [entry["body"] for entry in at.page.evaluate(READ) if entry["kind"] == kind and not entry["deleted"]]
    return found


def refusal(at, label):
    return words("app", at.language)["problems"]["ambiguous-number"].format(label=label)


def test_a_sum_is_typed_and_shown_so_and_its_address_has_a_point(at):
    page = show(at, "calculators/purge-volume/")
    place = page.locator("[data-field=headspace]")
    place.locator("[data-entry]").fill(at.here("2.5"))
    page.locator("[data-field=pressure_before] [data-entry]").fill(at.here("10.5"))
    page.locator("[data-field=pressure_after] [data-entry]").fill(at.here("8.25"))
    # Boyle's law, 14.696 psi of air at sea level: 2.5 bbl * 2.25 psi / (14.696 + 8.25) psi, by Z of CO2 a percent more
    shown = page.locator("[data-result=volume_lost] [data-text], [data-result] [data-text]").first
    expect(shown).to_have_text(re.compile(rf"^0{re.escape(at.here('.'))}24\d bbl$"))
    place.locator("[data-entry]").fill(at.here("1,250"))
    label = words("purge-volume", at.language)["fields"]["headspace"]["label"]
    told = place.locator("[data-problem]")
    expect(told).not_to_be_empty()
    assert told.inner_text().startswith(refusal(at, label).split(":")[0])
    place.locator("[data-entry]").fill(at.here("1250.5"))
    expect(told).to_be_empty()


def test_a_reading_of_a_purge_has_a_point_in_the_record(at):
    page = hand.open_purge(at.page, at.site.address)
    decimals = {
        "choose": {"headspace": "3.5 bbl", "temperature": "36.5 °F"},
        "pressure": {"rated_pressure": "15.5 psi", "pressure_found": "8.5 psi", "target_pressure": "12.5 psi"},
        "gas": {"pressure_before": "12.5 psi"}, "margin": {"planned_draw": "5.5 gal"},
        "after": {"pressure_after": "10.5 psi", "flow": "2.5 gal/min", "collected_volume": "4.5 gal"},
    }
    typed = {state: {name: at.here(text) for name, text in of.items()} for state, of in decimals.items()}
    for event in hand.TAPS_WITHOUT_A_TANK:
        hand.type_readings(page, typed)
        hand.tap(page, event)
    (purge,) = kept(at, "purge")
    read = {name: text for of in decimals.values() for name, text in of.items()}
    for name, text in read.items():
        assert purge["readings"][name] == text, name
    assert not [text for text in purge["readings"].values() if "," in text]


def test_a_reading_of_a_purge_that_may_be_one_of_thousands_is_refused(at):
    page = hand.open_purge(at.page, at.site.address)
    hand.type_readings(page, {"choose": {"headspace": at.here("1,250"), "temperature": "36 °F"}})
    hand.look(page)
    hand.step(page).locator("[data-event=begin]").first.click()
    expect(hand.step(page).locator("[data-field=headspace] [data-problem]")).not_to_be_empty()
    assert hand.state(page) == "choose" and kept(at, "purge") == []


def test_settings_are_kept_with_a_point(at):
    page = show(at, "settings/")
    page.locator("[data-settings] #altitude").fill(at.here("5280.5"))
    page.locator("#room_volume").fill(at.here("1250.5"))
    page.locator("#cylinder_mass").fill(at.here("1,250"))
    expect(page.locator("#cylinder_mass-problem")).not_to_be_empty()
    # ISO 2533: 83.4 kPa at 1,609 m, 12.1 psi
    expect(page.locator("#air_pressure-used")).to_contain_text(at.here("12.1"))
    settings = json.loads(page.evaluate("localStorage['tankfoot-settings']"))
    assert settings["altitude"] == "5280.5" and settings["values"]["room_volume"].startswith("1250.5 ")
    assert "cylinder_mass" not in settings["values"]
    page.reload()
    expect(page.locator("#altitude")).to_have_value(at.here("5280.5"))


def test_the_gauge_of_a_round_is_kept_with_a_point(at):
    put(at, cellar.tank("FV 1"))
    page = show(at, "round/")
    page.locator("[data-tanks] input").check()
    page.locator("[data-begin]").click()
    row = page.locator(".round-tank")
    row.locator("summary").click()
    gauge = row.locator("input[data-pressure]")
    gauge.fill(at.here("1,250"))
    gauge.blur()
    expect(row.locator("[data-problem]")).not_to_be_empty()
    gauge.fill(at.here("12.5"))
    gauge.blur()
    expect(row.locator("[data-read]")).to_contain_text(at.here("12.5 psi"))
    assert [reading["pressure"] for reading in kept(at, "tank-reading")] == ["12.5 psi"]
    assert kept(at, "round")[0]["tanks"][0]["pressure"] == "12.5 psi"


def test_the_walk_along_the_gauges_keeps_a_point(at):
    put(at, cellar.tank("FV 1"))
    page = show(at, "gauges/")
    gauge = page.locator("[data-typed=pressure]")
    expect(gauge).to_be_focused()
    gauge.fill(at.here("1,250"))
    gauge.blur()
    expect(page.locator("[data-walk] [data-problem], [data-problem]").first).not_to_be_empty()
    gauge.fill(at.here("8.5"))
    page.locator("[data-typed=temperature]").fill(at.here("36.5"))
    page.locator("[data-typed=temperature]").blur()
    expect(page.locator("[data-read]").first).to_contain_text(f"{at.here('8.5')} psi, {at.here('36.5')} °F")
    (reading,) = kept(at, "tank-reading")
    assert (reading["pressure"], reading["temperature"]) == ("8.5 psi", "36.5 °F")


def test_an_amount_and_days_of_a_batch_are_kept_with_a_point(at):
    put(at, cellar.tank("FV 1", beer_volume=0.0))
    page = show(at, f"tanks/tank/#id={cellar.id_of('FV 1')}")
    view = page.locator("[data-batch]")
    view.locator("#batch-beer").fill("Pale")
    amount = view.locator("[data-fill] [data-of=amount] input, [data-of=amount] input").first
    amount.fill(at.here("1,250"))
    view.locator("[data-fill-now], [data-filled-now], form button").first.click()
    assert kept(at, "batch-event") == []
    amount.fill(at.here("9.5"))
    view.locator("[data-fill-now], [data-filled-now], form button").first.click()
    expect(view.locator("[data-beer]")).to_have_text("Pale")
    assert kept(at, "batch-event")[0]["amount"] == "9.5 bbl"
    hops = words("screens", at.language)["batch"]["events"]["dry-hopped"]
    view.locator("[data-quick]").get_by_role("button", name=hops).click()
    form = view.locator("[data-event-form]")
    form.locator("[data-of=amount] input").fill(at.here("4.5"))
    for typed, days in (("1,250", None), ("2.5", 2.5)):
        form.locator("[data-of=days] input").fill(at.here(typed))
        form.locator("button[type=submit], [data-now]").first.click()
        if days is None:
            expect(form.locator("[data-of=days] [data-problem]")).not_to_be_empty()
    expect(view.locator("[data-undo]")).to_contain_text(hops)
    made = [event for event in kept(at, "batch-event") if event["event"] == "dry-hopped"]
    assert [(event["amount"], event["days"]) for event in made] == [("4.5 lb", 2.5)]


def test_a_rules_days_are_kept_as_the_number_that_was_meant(at):
    page = show(at, "rules/")
    rule = page.locator("[data-list] > details").first
    rule.locator("summary").click()
    rule.locator("[data-within]").fill(at.here("1,250"))
    rule.locator("[data-save]").click()
    expect(rule.locator("[data-problem]")).not_to_be_empty()
    assert kept(at, "due-rule") == []
    rule.locator("[data-within]").fill(at.here("2.5"))
    rule.locator("[data-save]").click()
    expect(page.locator("[data-list] > details").first.locator("[data-within]")).to_have_value(at.here("2.5"))
    assert [body["within"] for body in kept(at, "due-rule")] == [2.5]


def test_a_correction_in_the_record_is_typed_so_and_kept_with_a_point(at):
    put(at, REAL)
    page = show(at, f"record/entry/#id={REAL['id']}")
    page.locator("[data-correct] > summary").click()
    field = page.locator("#reading-collected_volume")
    field.fill(at.here("1,250 L"))
    page.locator("[data-correct] [type=submit]").click()
    expect(page.locator("#reading-collected_volume-problem")).not_to_be_empty()
    field.fill(at.here("30.5 ± 1 L"))
    page.locator("[data-correct] [type=submit]").click()
    expect(page.locator("[data-correct] [data-saved]")).not_to_be_empty()
    (purge,) = kept(at, "purge")
    assert purge["readings"]["collected_volume"] == "30.5 ± 1 L"
    assert purge["result"]["volume_lost"]["value"] == pytest.approx(0.0305, rel=1e-9)


def test_prices_are_kept_with_a_point(at):
    put(at, REAL)
    page = show(at, "cost/")
    page.locator("[data-basis] > summary").click()
    page.locator("[data-price=gas_price]").fill(at.here("1,250"))
    page.locator("[data-save]").click()
    expect(page.locator("[data-problem]")).not_to_be_empty()
    page.locator("[data-price=gas_price]").fill(at.here("0.45"))
    page.locator("[data-price=wage]").fill(at.here("24.5 $/h"))
    page.locator("[data-save]").click()
    expect(page.locator("[data-saved]")).not_to_be_empty()
    (basis,) = kept(at, "cost-basis")
    assert (basis["gas_price"], basis["wage"]) == ("0.45 $/lb", "24.5 $/h")
    page.reload()
    expect(page.locator("[data-price=gas_price]")).to_have_value(at.here("0.45 $/lb"))
