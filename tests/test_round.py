"""A morning of tanks is one round: each keeps its own clock and its own purge, and one port is open at a time."""

import random
from datetime import UTC, datetime, timedelta

import cellar
import hand
import pytest
from browsers import PHONE
from playwright.sync_api import expect
from test_record import READ

SMALL = {"width": 360, "height": 640}
DAY = 86400.0
NAMES = ("FV 1", "FV 2", "FV 3", "FV 4")
WET = ("begin", "all-there", "across", "outer", "cap-off", "wet")
FLOWING = ("begin", "all-there", "stack-hangs", "hooked-up", "at-pressure", "gas-shut", "fits", "opened")
COUNT_BUZZES = """
  navigator.vibrate = () => sessionStorage.setItem("buzzed", String(1 + Number(sessionStorage.getItem("buzzed"))));
"""
# Walks several purges, one tap of one of them at a time, as drawn; resolves to their bodies and what was refused.
INTERLEAVE = """async ([url, tanks, taps, readings, order]) => {
  const { take } = await import(url);
  const { discard, get, idsOfKind, put } = take("browser/storage/record.js");
  await discard(...await idsOfKind("purge"));
  await put(...tanks);
  const { openRun, freshPurge } = take("browser/purge/run.js");
  const runs = tanks.map((tank) => ({ run: openRun(freshPurge(tank), tank), at: 0 }));
  const refused = [];
  for (const place of order) {
    const one = runs[place];
    if (one.at === taps.length) continue;
    const texts = readings[one.run.body.state] ?? {};
    if (await one.run.tap(taps[one.at], { texts })) one.at += 1;
    else refused.push([place, taps[one.at]]);
  }
  const bodies = [];
  for (const { run } of runs) bodies.push((await get(run.id)).body);
  return { bodies, refused, isOver: runs.every(({ at }) => at === taps.length) };
}"""


@pytest.fixture
def page(chromium, served):
    context = chromium.new_context(**PHONE | {"viewport": SMALL}, service_workers="block")
    page = context.new_page()
    page.goto(served.address)
    tanks = [cellar.tank(name, stack=cellar.USUAL, cap_way="Bleed cap.", purge_every=DAY) for name in NAMES]
    cellar.keep(page, served, *tanks)
    yield page
    context.close()


def go(page, served, place="round/"):
    page.goto("about:blank")
    page.goto(served.address + place)
    page.locator("main[data-ready]").wait_for()


def begin(page, served, names=NAMES):
    go(page, served)
    for name in NAMES:
        page.get_by_role("checkbox", name=name).set_checked(name in names, force=True)
    page.get_by_role("button", name="Begin the round").click()
    expect(page.locator("[data-walk]")).to_be_visible()


def row(page, name):
    return page.locator(".round-tank").filter(has=page.get_by_text(name, exact=True))


def look_again(page):
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")


def walked(names, of, ago=0.0, **readings):
    """A purge whose last tap was ``ago`` seconds ago."""
    return cellar.walked(names, of, now=datetime.now(UTC) - timedelta(seconds=ago), readings=readings)


def test_due_tanks_are_ticked_and_those_out_of_use_cannot_be(page, served):
    cellar.keep(page, served, cellar.tank("FV 4", purge_every=None), cellar.hold("FV 2"))
    go(page, served)
    # by hand: made in March, purged every day: FV 1 and FV 3 are due; FV 2 is out of use, FV 4 says no rhythm
    ticked = page.locator("[data-tanks] input").evaluate_all("(all) => all.map((one) => [one.checked, one.disabled])")
    assert ticked == [[True, False], [False, True], [True, False], [False, False]]
    expect(page.locator("[data-tanks] label").nth(1)).to_contain_text("Its isolation valve leaks.")


def test_clocks_run_side_by_side_and_an_alarm_names_its_tank_on_every_page(page, served):
    page.add_init_script(COUNT_BUZZES)
    begin(page, served)
    cellar.keep(
        page, served, walked(WET, "FV 1", contact_time="10 min"), walked(WET, "FV 2", 61, contact_time="1 min"),
        walked(WET, "FV 3", 60 + 15 * 60 + 1, contact_time="1 min"),
    )
    look_again(page)
    expect(row(page, "FV 1")).to_contain_text("wet 9:5")
    expect(row(page, "FV 2")).to_contain_text("contact time over")
    # Common practice, no source: a quarter of an hour after the contact time it is wetted again.
    expect(row(page, "FV 3")).to_contain_text("wet too long ago")
    expect(row(page, "FV 4")).to_contain_text("not begun")
    for place in ("calculators/purge-volume/", "settings/", ""):
        page.goto(served.address + place)
        expect(page.locator("[data-alarm]")).to_have_text("Contact time over: FV 2")
    assert page.evaluate("sessionStorage.getItem('buzzed')") == "1"  # once for each tank, whatever page comes
    go(page, served)
    row(page, "FV 3").get_by_role("link", name="Wet it again").click()
    expect(page.locator("[data-step=contact] [data-too-long]")).to_be_visible()
    expect(page.locator("[data-step=contact] [data-event=time-over]")).to_be_hidden()
    page.locator("[data-step=contact] [data-event=wet]").click()
    expect(page.locator("[data-too-long]")).to_be_hidden()
    expect(page.locator("[data-countdown]")).to_have_text("1:00")
    page.wait_for_timeout(hand.LOOK)  # a second tap at one spot is none
    page.get_by_role("link", name="To the round").click()
    expect(row(page, "FV 3")).to_contain_text("wet 0:")
    page.goto(f"{served.address}emergency/")
    expect(page.locator("[data-alarm]")).to_have_text("Contact time over: FV 2")


def test_while_one_port_is_open_no_other_is_opened_and_no_alarm_sounds(page, served):
    begin(page, served)
    flowing = walked(FLOWING, "FV 1")
    cellar.keep(page, served, flowing, walked(FLOWING[:-1], "FV 2"), walked(WET, "FV 3", 61, contact_time="1 min"))
    look_again(page)
    expect(row(page, "FV 1").get_by_role("link", name="To the open port")).to_be_visible()
    for name in ("FV 2", "FV 3", "FV 4"):
        expect(row(page, name).locator("[data-act]")).to_be_hidden()
    page.get_by_role("button", name="End the round").click()
    expect(page.locator("[data-end-problem]")).to_have_text("The port of FV 1 is open: close it first.")
    go(page, served, f"purge/#tank={cellar.id_of('FV 2')}")
    step = page.locator("[data-step=run]")
    expect(step.locator("[data-other-open]")).to_contain_text("Another port is open")
    expect(step.locator("[data-event=opened]")).to_be_hidden()
    # a fact is never refused
    expect(step.locator("[data-event=already-open]")).to_be_visible()
    expect(page.locator("[data-alarm]")).to_be_hidden()
    step.locator("[data-other-open] a").click()
    expect(page.locator("[data-step=flowing]")).to_be_visible()
    expect(page.locator("[data-to-round]")).to_be_hidden()


def test_a_gauge_is_read_in_passing_and_the_end_says_what_left_and_what_was_not_done(page, served):
    begin(page, served, NAMES[:3])
    assert page.locator(".round-tank").count() == 3
    row(page, "FV 2").locator("summary").click()
    row(page, "FV 2").get_by_label("Gauge reads").fill("12")
    row(page, "FV 2").get_by_label("Gauge reads").blur()
    expect(row(page, "FV 2").locator("[data-read]")).to_contain_text("12 psi at")
    # 1 psi is 6894.757 Pa (NIST SP 811)
    (tank,) = [body for body in cellar.kept(page, served, "tank") if body["name"] == "FV 2"]
    assert tank["pressure"] == pytest.approx(12 * 6894.757293168, rel=1e-12)
    (reading,) = cellar.kept(page, served, "tank-reading")
    assert (reading["tank_name"], reading["pressure"]) == ("FV 2", "12 psi")
    done = walked(hand.TAPS, "FV 1")
    litre = 0.001
    done["body"] |= {"result": {
        "volume_lost": {"value": 12 * litre, "uncertainty": None}, "overrun": {"value": 3 * litre, "uncertainty": None},
    }}
    del done["body"]["open"]
    cellar.keep(page, served, done)
    look_again(page)
    expect(row(page, "FV 1")).to_contain_text("done")
    page.get_by_role("button", name="End the round").click()
    page.get_by_role("button", name="End it").click()
    expect(page.locator("[data-end-problem]")).to_have_text("Write the reason first.")
    for name in ("FV 2", "FV 3"):
        page.locator("[data-undone]").get_by_label(name).fill(f"{name}: no time")
    page.get_by_role("button", name="End it").click()
    ended = page.locator("[data-ended]")
    # 1 US gal is 3.785411784 L (NIST Handbook 44): 12 L are 3.17 gal, 3 L are 0.793 gal
    expect(ended).to_contain_text("FV 1: 3.17 gal left, 0.793 gal of it after the colour change")
    expect(ended).to_contain_text("To empty: 3.17 gal.")
    expect(ended.locator("[data-left-out] li")).to_have_text(["FV 2: FV 2: no time", "FV 3: FV 3: no time"])
    before, after = ended.locator("rect").evaluate_all("(all) => all.map((one) => one.width.baseVal.value)")
    assert after / (before + after) == pytest.approx(3 / 12)
    (kept,) = [entry["body"] for entry in page.evaluate(READ) if entry["kind"] == "round"]
    assert kept["ended"] and "open" not in kept and kept["tanks"][1]["pressure"] == "12 psi"


@pytest.mark.parametrize("seed", range(4))
def test_purges_of_one_phone_never_write_into_each_other(seed, page, served):
    """Each purge's record, taps drawn at random among three, is the one that it has alone."""
    page.clock.install()
    page.goto(served.address)
    page.clock.pause_at(cellar.moment(page.evaluate("Date.now() + 5000")))  # what a purge tells rests on its times
    tanks = [entry for entry in page.evaluate(READ) if entry["kind"] == "tank"][:3]
    rng, taps = random.Random(seed), list(hand.TAPS)
    order = [rng.randrange(3) for _ in range(3 * len(taps))] + [place for place in range(3) for _ in taps]
    together = page.evaluate(INTERLEAVE, [served.script, tanks, taps, hand.READINGS, order])
    assert together["isOver"]
    # one hand, one open port
    assert all(event == "opened" for _, event in together["refused"])
    alone = []
    for tank in tanks:
        found = page.evaluate(INTERLEAVE, [served.script, [tank], taps, hand.READINGS, [0] * len(taps)])
        assert found["refused"] == []
        alone += found["bodies"]
    for ours, theirs in zip(together["bodies"], alone, strict=True):
        assert ours == theirs
        assert ours["state"] == "saved" and ours["result"]["volume_lost"]


def test_today_shows_the_round_first_with_what_each_tank_waits_for(page, served):
    go(page, served, "")
    expect(page.locator("[data-round-new] a")).to_be_visible()
    begin(page, served, NAMES[:2])
    cellar.keep(page, served, walked(WET, "FV 1", 61, contact_time="1 min"))
    go(page, served, "")
    first = page.locator("main li:visible").first
    expect(first).to_contain_text("Round: 0 of 2 done")
    expect(first).to_contain_text("FV 1: contact time over")
    expect(first).to_contain_text("FV 2: not begun")
    first.locator("a").click()
    expect(page.locator("[data-walk]")).to_be_visible()


# ANSI Z535.6: DANGER is what kills if it is not avoided: a tank above its plate can burst, one below zero can fold in.
@pytest.mark.parametrize(("reads", "stop"), [("16", "plate"), ("-0.5", "zero")])
def test_a_dangerous_gauge_in_passing_is_said_and_nothing_is_gone_on_with(reads, stop, page, served):
    begin(page, served, NAMES[:2])
    one = row(page, "FV 1")
    one.locator("summary").click()
    one.get_by_label("Gauge reads").fill(reads)
    one.get_by_label("Gauge reads").blur()
    expect(one.locator(f"[data-{stop}-stop]")).to_contain_text("DANGER")
    expect(one.locator("[data-act]")).to_be_hidden()
    expect(row(page, "FV 2").locator("[data-act]")).to_be_visible()
    one.get_by_label("Gauge reads").fill("12")
    one.get_by_label("Gauge reads").blur()
    expect(one.locator(f"[data-{stop}-stop]")).to_be_hidden()
    expect(one.locator("[data-act]")).to_be_visible()
    one.get_by_label("Gauge reads").fill("9e9")
    one.get_by_label("Gauge reads").blur()
    expect(one.locator("[data-problem]")).to_contain_text("That is no pressure")


def test_while_beer_may_run_at_one_tank_no_purge_begins_at_another(page, served):
    cellar.keep(page, served, walked(FLOWING[:-1], "FV 2"))  # its valve may be moved before that is told
    go(page, served, f"purge/#tank={cellar.id_of('FV 1')}")
    expect(page.locator("[data-port-open]")).to_contain_text("Another port may be open")
    expect(page.locator("[data-event=begin]")).to_be_hidden()


def test_an_alarm_moves_nothing_under_a_finger(page, served):
    page.clock.install()
    go(page, served, "")
    asked = walked(("begin", "all-there"), "FV 1")  # the gate of the cap
    cellar.keep(page, served, asked, walked(WET, "FV 2", 50, contact_time="1 min"))
    go(page, served, f"purge/#go-on={asked['id']}")
    page.clock.run_for(1000)
    answers = page.locator("[data-step=cap-valve] [data-event]")
    before = answers.evaluate_all("(all) => all.map((one) => one.getBoundingClientRect().top)")
    page.clock.run_for(15_000)
    assert answers.evaluate_all("(all) => all.map((one) => one.getBoundingClientRect().top)") == before
    expect(page.locator("[data-alarm]")).to_be_hidden()
    page.locator("[data-event=across]").click()
    # the screen has changed by a tap: now it is told
    expect(page.locator("[data-alarm]")).to_have_text("Contact time over: FV 2")
