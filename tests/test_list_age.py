"""A check of the port, a clamp or the gas grows old: its gates are asked again, and nothing is erased."""

import re

import pytest
from playwright.sync_api import expect
from tankfoot.checklists import checklists
from tankfoot.purge.machine import grown_old
from tankfoot.record.age import OLD
from tankfoot.record.entry import check_entry
from test_own_lists import entries, opened

GROWING_OLD = ["before-opening-the-bottom-port", "before-breaking-a-clamp", "gas-hook-up"]
CLAMP = checklists()["before-breaking-a-clamp"]


@pytest.fixture
def page(phone, served):
    page = phone.new_page()
    page.clock.install(time="2026-03-01T07:00:00Z")
    return opened(page, served, f"checklists/{CLAMP.id}/")


def tick(page, *lines):
    for line in lines:
        page.locator(f"[data-line='{line}']").check()
        expect(page.locator(f"[data-line='{line}']")).to_be_checked()


def ticked(page):
    return page.locator("[data-line]:checked").evaluate_all("(all) => all.map((one) => one.dataset.line)")


def tick_all(page):
    for part in CLAMP.parts:
        tick(page, *(line.id for line in part.lines))


FIRST = [line.id for line in CLAMP.parts[0].lines]


def test_the_lists_of_the_port_the_clamps_and_the_gas_grow_old():
    assert [made.id for made in checklists().values() if made.grows_old] == GROWING_OLD


# Common practice, no source: half an hour, the rule of the guided purge too.
def test_a_list_and_a_purge_grow_old_by_the_same_time():
    begun = [{"event": "begin", "at": "2026-03-01T07:00:00.000Z"}]
    assert OLD == 30 * 60
    assert not grown_old(begun, "2026-03-01T07:29:59.999Z") and grown_old(begun, "2026-03-01T07:30:00.000Z")


def test_after_half_an_hour_the_gates_are_asked_again_and_nothing_is_erased(page):
    tick(page, *FIRST)
    before = entries(page, "list-run")[0]["body"]["events"]
    page.clock.fast_forward("29:50")
    assert ticked(page) == FIRST
    page.clock.fast_forward("00:20")
    expect(page.locator("[data-since]")).to_contain_text("half an hour went by since the last tick")
    expect(page.locator("[data-since]")).to_be_in_viewport()
    expect(page.locator("[data-line]:checked")).to_have_count(0)
    (run,) = entries(page, "list-run")
    assert run["body"]["events"][: len(before)] == before
    assert [(event["line"], event["done"], event["aged"]) for event in run["body"]["events"][len(before) :]] == [
        (line, False, "time") for line in FIRST
    ]
    assert check_entry(run) == []
    tick(page, *FIRST)
    expect(page.locator("[data-since]")).to_be_hidden()


def test_it_is_asked_again_after_a_reload_too_and_a_later_part_is_closed(page):
    tick(page, *FIRST)
    expect(page.locator("fieldset").nth(1)).not_to_have_attribute("disabled", "")
    page.clock.fast_forward("31:00")
    page.reload()
    page.locator("main[data-ready]").wait_for()
    expect(page.locator("[data-since]")).to_contain_text("has grown old")
    expect(page.locator("fieldset").nth(1)).to_have_attribute("disabled", "")
    expect(page.locator("[data-line]:checked")).to_have_count(0)


def test_a_line_that_is_no_gate_keeps_its_tick(phone, served):
    page = phone.new_page()
    page.clock.install(time="2026-03-01T07:00:00Z")
    opened(page, served, "checklists/gas-hook-up/")
    first = checklists()["gas-hook-up"].parts[0].lines
    tick(page, *(line.id for line in first))
    page.clock.fast_forward("31:00")
    expect(page.locator("[data-since]")).to_be_visible()
    assert ticked(page) == [line.id for line in first if not line.gate] != []


def test_an_emergency_card_opened_meanwhile_asks_again(page, served):
    tick(page, *FIRST)
    page.clock.fast_forward("00:10")
    page.get_by_role("link", name="It went wrong").click()
    page.locator("main[data-ready]").wait_for()
    opened(page, served, f"checklists/{CLAMP.id}/")
    expect(page.locator("[data-since]")).to_contain_text("An emergency card was opened since the last tick")
    expect(page.locator("[data-line]:checked")).to_have_count(0)


def test_another_hand_asks_again_and_the_same_one_does_not(page):
    page.get_by_label("Your initials").fill("AB")
    tick(page, *FIRST)
    page.get_by_label("Your initials").fill("AB ")
    page.get_by_label("Your initials").blur()
    assert ticked(page) == FIRST
    page.get_by_label("Your initials").fill("CD")
    page.get_by_label("Your initials").blur()
    expect(page.locator("[data-since]")).to_contain_text("Another hand is at work")
    expect(page.locator("[data-line]:checked")).to_have_count(0)
    expect(page.get_by_label("Your initials")).to_have_value("CD")
    (run,) = entries(page, "list-run")
    assert run["body"]["initials"] == "CD"


# Nothing is erased: the finished check stays in the log, and another begins.
def test_a_finished_check_that_has_grown_old_begins_anew(page):
    tick_all(page)
    expect(page.locator("[data-finished]")).to_contain_text("confirmed")
    page.clock.fast_forward("31:00")
    expect(page.locator("[data-since]")).to_have_text(re.compile(r"^The check finished .* has grown old"))
    expect(page.locator("[data-line]:checked")).to_have_count(0)
    expect(page.locator("[data-log] li")).to_contain_text("finished")
    tick(page, FIRST[0])
    first, second = sorted(entries(page, "list-run"), key=lambda run: run["created"])
    assert first["body"]["finished"] and len(first["body"]["events"]) == len(CLAMP.lines)
    assert [event["line"] for event in second["body"]["events"]] == FIRST[:1]


def test_a_list_that_does_not_grow_old_says_only_how_long_ago(phone, served):
    page = phone.new_page()
    page.clock.install(time="2026-03-01T07:00:00Z")
    opened(page, served, "checklists/isopropyl-alcohol/")
    line = checklists()["isopropyl-alcohol"].lines[0].id
    tick(page, line)
    page.clock.fast_forward("31:00")
    page.reload()
    expect(page.locator("[data-since]")).to_contain_text(re.compile("3[1-3] minutes ago"))
    assert ticked(page) == [line]


# The look of a page at itself: a tap on a check that grew old a moment ago is no tick.
def test_a_tap_on_an_old_check_is_not_taken(page):
    tick(page, *FIRST)
    page.clock.pause_at("2026-03-01T07:29:59Z")
    page.evaluate("() => { const now = Date.now(); Date.now = () => now + 60e3; }")
    page.evaluate("""() => {
      const Real = Date;
      globalThis.Date = class extends Real {
        constructor(...given) { super(...(given.length ? given : [Real.now()])); }
      };
    }""")
    second = CLAMP.parts[1].lines[0].id
    page.locator(f"[data-line='{second}']").click()
    expect(page.locator("[data-since]")).to_be_visible()
    expect(page.locator("[data-line]:checked")).to_have_count(0)


def test_a_copy_grows_old_too_and_giving_that_up_has_to_be_read(page):
    page.get_by_role("button", name="Copy and adapt").click()
    page.wait_for_url("**/own/edit/#copy=*")
    page.locator("[data-own-edit][data-ready]").wait_for()
    tick_box = page.locator("[data-of=grows_old]")
    expect(tick_box).to_be_checked()
    tick_box.uncheck()
    expect(page.locator("[data-warning-lines]")).to_contain_text("The list no longer grows old")
    tick_box.check()
    expect(page.locator("[data-warnings]")).to_be_hidden()
    page.locator("[data-save]").click()
    page.wait_for_url("**/own/#id=*")
    page.locator("[data-own-list][data-ready]").wait_for()
    (own,) = entries(page, "site-list")
    assert own["body"]["list"]["grows_old"] is True and check_entry(own) == []
    tick(page, *FIRST)
    page.clock.fast_forward("31:00")
    expect(page.locator("[data-since]")).to_contain_text("has grown old")
    expect(page.locator("[data-line]:checked")).to_have_count(0)
