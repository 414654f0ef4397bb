"""Today shows what is due in the tanks, and why, until it is done or put off; a site changes the rules."""

import json
from datetime import datetime

import cellar
import hand
import pytest
from browsers import PHONE
from cellar import id_of
from due_month import CALENDAR, ZONE, batches, expected, export, instant, moments, month, told
from playwright.sync_api import expect
from tankfoot.cli import main
from test_record import READ

DUE = ("due", "overdue")
SMALL = {"width": 360, "height": 640}
COUNT_BADGES = """
  window.badges = [];
  navigator.setAppBadge = async (count) => { window.badges.push(count); };
  navigator.clearAppBadge = async () => { window.badges.push(0); };
"""
# {tank: [rules]} of what Today shows as due.
SHOWN = """() => Object.fromEntries([...document.querySelectorAll("[data-due] [data-of]")].map((tile) => (
  [tile.dataset.of, [...tile.querySelectorAll("[data-rule]")].map(({ dataset }) => dataset.rule).sort()]
)))"""


@pytest.fixture
def page(chromium, served):
    context = chromium.new_context(
        **PHONE | {"viewport": SMALL}, service_workers="block", timezone_id=ZONE, locale="en-US",
    )
    page = context.new_page()
    page.add_init_script(COUNT_BADGES)
    yield page
    context.close()


def open_at(page, served, wall, *entries):
    """Today at a moment of the month, with what was told until then."""
    page.clock.set_fixed_time(instant(wall))
    page.goto(served.address)
    if entries:
        cellar.keep(page, served, *entries)
        page.reload()
    page.locator("main[data-today][data-ready]").wait_for()


def shown(page):
    return page.evaluate(SHOWN)


def tank_of(page, name):
    return page.locator(f'[data-due] [data-of="{id_of(name)}"]')


# Source: the calendar in due_month.py, written by hand.
def test_the_month_played_through_shows_each_thing_that_is_due_until_it_is_done(page, served):
    open_at(page, served, "03-01 06:00", *known("02-28 22:00"))
    seen, kept, last = set(), {entry["id"]: entry for entry in known("02-28 22:00")}, None
    for wall in moments():
        fresh = [entry for entry in known(wall) if kept.get(entry["id"]) != entry]
        if expected(wall) == last and not fresh:
            continue
        last = expected(wall)
        kept |= {entry["id"]: entry for entry in fresh}
        page.clock.set_fixed_time(instant(wall))
        if fresh:
            cellar.keep(page, served, *fresh)
        page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
        due = [(tank, rule) for (tank, rule), state in last.items() if state in DUE and rule != "gauge"]
        wanted = {id_of(tank): sorted(rule for of, rule in due if of == tank) for tank, _ in due}
        page.wait_for_function(
            f"(wanted) => JSON.stringify(Object.entries(({SHOWN})()).sort()) === wanted",
            arg=json.dumps(sorted(wanted.items()), separators=(",", ":")), timeout=10_000,
        )
        asked = [(state == "due", tank) for (tank, rule), state in last.items() if rule == "gauge" and state in DUE]
        gauges = [tank for _, tank in sorted(asked)]  # overdue first
        walk = page.locator("[data-due]").get_by_role("link", name="Walk along the gauges")
        expect(walk).to_have_count(1 if gauges else 0)
        if gauges:
            expect(walk.locator("span")).to_have_text(", ".join(gauges))
        seen |= set(due)
    assert seen == {key for key, changes in CALENDAR.items() if key[1] != "gauge"
                    and any(state in DUE for _, state in changes)}


def known(wall):
    """All that the month tells up to a moment; a hold that is lifted only later is not lifted yet."""
    told_then = [entry for entry in month() if entry["created"] <= instant(wall)]
    return [entry if entry["edited"] <= instant(wall) else entry | {"body": entry["body"] | {"lifted": None}}
            for entry in told_then]


def test_hops_whose_days_end_at_three_on_the_night_the_clocks_change_are_due_at_three_and_done_by_a_round(page, served):
    cellar_of_it = [
        cellar.tank("FV 2", stack=cellar.USUAL, cap_way="Bleed cap.") | {"created": instant("03-01 06:00")},
        *batches("Pale Ale"),
        told(("03-10 09:00", "FV 2", "filled", "Pale Ale")),
        told(("03-26 03:00", "FV 2", "dry-hopped", "Pale Ale", 3.0)),
    ]
    # the clock shows 01:59 and then 03:00: half a minute before, and at once after
    hand.hurry(page, since=datetime.fromisoformat(instant("03-29 01:59")))
    page.goto(served.address)
    cellar.keep(page, served, *cellar_of_it)
    page.reload()
    expect(page.locator("[data-next]")).to_contain_text("Purge the hops")
    expect(page.locator("[data-due]")).to_be_hidden()
    hand.wait(page, 60_000)
    expect(tank_of(page, "FV 2")).to_contain_text("Purge the hops: due until Mon, Mar 30, 3:00 AM")
    expect(tank_of(page, "FV 2")).to_contain_text("Dry hops went in on Thu, Mar 26, 3:00 AM; this is due 3 days later.")
    expect(page.locator("[data-now-due]")).to_contain_text("FV 2: Purge the hops")
    page.get_by_role("link", name="A round of tanks").click()
    expect(page.get_by_role("checkbox", name="FV 2")).to_be_checked()
    page.get_by_role("button", name="Begin the round").click()
    page.get_by_role("link", name="Prepare").click()
    page.locator("[data-purge][data-ready]").wait_for()
    hand.walk(page, hand.TAPS)
    page.get_by_role("link", name="To the round").click()
    page.get_by_role("button", name="End the round").click()
    expect(page.locator("[data-ended]")).to_be_visible()
    page.get_by_role("link", name="Today", exact=True).first.click()
    page.locator("main[data-today][data-ready]").wait_for()
    assert shown(page) == {}
    expect(page.locator("[data-next]")).to_contain_text("Purge the hops: from Mon, Mar 30")


def test_a_tank_that_was_emptied_yesterday_asks_for_nothing(page, served):
    entries = [
        cellar.tank("FV 1", purge_every=86400.0), *batches("Helles"), told(("03-01 08:00", "FV 1", "filled", "Helles")),
        told(("03-02 08:00", "FV 1", "cooled", "Helles")),
    ]
    open_at(page, served, "03-20 08:00", *entries)
    assert shown(page) == {id_of("FV 1"): ["cold", "every"]}
    open_at(page, served, "03-21 08:00", told(("03-20 09:00", "FV 1", "emptied", "Helles")))
    assert shown(page) == {}
    expect(page.locator("[data-next]")).to_be_hidden()
    expect(page.get_by_text("Walk along the gauges")).to_have_count(1)


def test_what_is_put_off_needs_a_reason_and_comes_back_and_the_command_agrees(page, served, tmp_path, capsys):
    entries = [
        cellar.tank("FV 1"), *batches("Helles"), told(("03-01 08:00", "FV 1", "filled", "Helles")),
        told(("03-02 08:00", "FV 1", "fermenting", "Helles")),
    ]
    open_at(page, served, "03-02 10:00", *entries)
    assert shown(page) == {id_of("FV 1"): ["trub"]}
    page.get_by_text("Put one off").click()
    page.get_by_role("button", name="Put it off").click()
    expect(page.get_by_text("Write the reason first.")).to_be_visible()
    assert shown(page) == {id_of("FV 1"): ["trub"]}
    page.locator("[data-put-off] [data-why]").fill("No hose free.")
    page.get_by_role("button", name="Put it off").click()
    expect(page.locator("[data-due]")).to_be_hidden()
    expect(page.locator("[data-next]")).to_contain_text("Purge the trub: from Tue, Mar 3")
    (kept,) = [entry["body"] for entry in page.evaluate(READ) if entry["kind"] == "postponement"]
    assert kept["why"] == "No hose free." and kept["until"] == instant("03-03 00:00")
    file = export(tmp_path, page.evaluate(READ))
    assert main(["due", str(file), "--at", instant("03-02 11:00"), "--zone", ZONE, "--json"]) == 0
    (item,) = json.loads(capsys.readouterr().out)["due"]
    assert (item["rule"], item["state"], item["from"]) == ("trub", "later", "2026-03-03T00:00:00+01:00")
    open_at(page, served, "03-03 06:00")
    assert shown(page) == {id_of("FV 1"): ["trub"]}


def test_a_rule_is_changed_left_out_had_back_and_a_site_adds_its_own(page, served):
    entries = [
        cellar.tank("FV 1"), *batches("Helles"), told(("03-01 08:00", "FV 1", "filled", "Helles")),
        told(("03-02 08:00", "FV 1", "fermenting", "Helles")),
    ]
    open_at(page, served, "03-02 10:00", *entries)
    rules(page, served)
    trub = page.locator('.rule[data-of="trub"]')
    trub.locator("summary").click()
    trub.locator("[data-wait]").fill("1,5")
    trub.locator("[data-within]").fill("x")
    trub.get_by_role("button", name="Save").click()
    expect(trub.get_by_text("Not saved")).to_be_visible()
    trub.locator("[data-within]").fill("2")
    trub.get_by_role("button", name="Save").click()
    expect(page.locator('.rule[data-of="trub"] [data-says]')).to_contain_text("1.5 days after fermentation is going")
    open_at(page, served, "03-03 19:59")
    assert shown(page) == {}
    open_at(page, served, "03-03 20:00")  # a day and a half after 08:00 on the 2nd
    assert shown(page) == {id_of("FV 1"): ["trub"]}
    rules(page, served)
    trub.locator("summary").click()
    trub.get_by_role("button", name="Back to the usual").click()
    page.get_by_role("button", name="Add a rule").click()
    own = page.locator(".rule[open]")
    own.locator("[data-name]").fill("Smell it")
    own.locator("[data-asks]").select_option("look")
    own.get_by_role("button", name="Save").click()
    expect(page.locator(".rule summary", has_text="Smell it")).to_be_visible()
    open_at(page, served, "03-02 10:00")
    found = shown(page)[id_of("FV 1")]
    assert "trub" in found and len(found) == 2
    expect(tank_of(page, "FV 1")).to_contain_text("Smell it")


def rules(page, served):
    page.goto(f"{served.address}rules/")
    page.locator("[data-rules][data-ready]").wait_for()


def test_the_icon_shows_how_many_things_are_due(page, served):
    entries = [cellar.tank("FV 1", purge_every=86400.0), cellar.tank("FV 2", purge_every=86400.0)]
    open_at(page, served, "03-20 08:00", *entries)
    assert page.evaluate("window.badges") == [2]
    open_at(page, served, "03-20 08:05", told(("03-20 08:01", "FV 1", "purge")), told(("03-20 08:02", "FV 2", "purge")))
    assert page.evaluate("window.badges") == [0]


def test_what_the_next_shift_should_know_stands_on_one_screen_and_is_shared_as_a_text(page, served):
    entries = [
        cellar.tank("FV 1", rated_pressure=100000.0, pressure=120000.0), cellar.tank("FV 2", purge_every=86400.0),
        cellar.tank("FV 3", floor_pressure=50000.0, pressure=40000.0),
        cellar.unfinished("FV 3", "ready", ["begin"], at=instant("03-20 07:00")),
        cellar.entry("tank-hold", id_of("hold"), instant("03-19 07:00"), {
            "tank": id_of("FV 1"), "why": "above-plate", "note": "", "by": "AB", "purge": None, "lifted": None,
            "lifted_by": None, "lifted_why": None,
        }),
        cellar.entry("round", id_of("round"), instant("03-20 06:30"), {
            "initials": "AB", "ended": instant("03-20 07:30"), "tanks": [{
                "tank": id_of("FV 2"), "tank_name": "FV 2", "left_out": "Hose is cracked.", "pressure": None,
                "read": None,
            }],
        }),
    ]
    open_at(page, served, "03-20 08:00", *entries)
    page.add_init_script("navigator.share = async (what) => { window.shared = what; };")
    page.get_by_role("link", name="For the next shift").click()
    page.locator("[data-handover][data-ready]").wait_for()
    page.locator("[data-note]").fill("Valve of FV 3 sticks.")
    page.get_by_role("button", name="Add the note").click()
    expect(page.locator("[data-notes] li")).to_have_count(1)
    page.get_by_role("button", name="Share it as a text").click()
    text = page.evaluate("window.shared.text")
    for line in ("- FV 3: begun Fri, Mar 20, 7:00 AM, not finished.", "- FV 2: not done. Hose is cracked.",
                 "FV 1: 17.4 psi, above its plate. Gas off, open nothing below", "FV 3: 5.8 psi, under its floor.",
                 "- FV 2: due 18 days ago", "- Valve of FV 3 sticks."):
        assert line in text, (line, text)
    with page.expect_download() as download:
        page.get_by_role("button", name="Share it as a file").click()
    assert download.value.suggested_filename == "next-shift.txt"
    page.get_by_role("button", name="Done").click()
    expect(page.locator("[data-notes] li")).to_have_count(0)


def test_what_is_due_goes_into_the_phones_calendar_as_the_command_writes_it(page, served, tmp_path):
    open_at(page, served, "03-19 10:00", *known("03-19 10:00"))
    page.get_by_text("Calendar and rules").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="What is due, as a calendar file").click()
    theirs = tmp_path / "phone.ics"
    download.value.save_as(theirs)
    file, ours = export(tmp_path, page.evaluate(READ)), tmp_path / "office.ics"
    assert main(["calendar", str(file), "-o", str(ours), "--at", instant("03-19 10:00"), "--zone", ZONE]) == 0
    assert theirs.read_bytes() == ours.read_bytes() and b"BEGIN:VEVENT" in ours.read_bytes()
