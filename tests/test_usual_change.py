"""On the screen: when the colour usually changes, what usually comes out, and whether a day more of rest saved beer."""

from datetime import timedelta

import cellar
import hand
import pytest
from playwright.sync_api import expect
from tankfoot.purge.machine import LATEST
from taps import ON
from test_fixed_places import BOX
from test_pouch import STAND_IN
from test_purge import LINES_IN_SIGHT
from test_purge_table import shortest

TO_SAVED = ["begin", *(event for state, event in ON.items() if state != "choose")]
OWN = (60.0, 80.0, 70.0, 90.0)
# Source: scipy.stats.t.ppf(0.9, 3) = 1.637744; by hand, of the logarithms of OWN: mean 4.306, s = 0.1737, so the ends
# are exp(4.306 -+ 1.637744 x 0.1737 x sqrt(1.25)) = 54.0 s and 102.0 s, each to five seconds outwards.
USUALLY = "Changes between 0:50 and 1:45, usually. From 4 purges here."
SMALL = {"width": 360, "height": 640}


def was(of, days_ago, seconds, now, solids="trub", readings=None, **lost):
    """A purge of the tank named ``of`` that is over, its colour changed after so many seconds."""
    result = {name: {"value": value, "uncertainty": None} for name, value in lost.items()}
    made = cellar.walked(TO_SAVED, of, now=now - timedelta(days=days_ago), gap=seconds, result=result, solids=solids,
                         readings=readings or {})
    del made["body"]["open"]
    return made


def moment(page):
    return cellar.moment(page.evaluate("Date.now()"))


@pytest.fixture
def cellar_page(phone, served):
    """The purge page of FV 1 at a step, with the past that ``made_past`` makes of an instant."""

    def opened(step, *more, made_past=lambda now: [was("FV 1", 20 + n, s, now) for n, s in enumerate(OWN)], **settings):
        page = hand.hurry(phone.new_page())
        page.set_viewport_size(SMALL)
        page.add_init_script(f"({STAND_IN})([])")
        page.goto(served.address)
        cellar.remember(page, served, **settings)
        now = moment(page)
        tank = cellar.tank("FV 1", stack=cellar.USUAL, cap_way="Bleed cap, a quarter turn.")
        purge = cellar.walked([*shortest(LATEST, step), *more], of="FV 1", now=now)
        cellar.keep(page, served, tank, purge, *made_past(now))
        return hand.open_purge(page, served.address, f"#go-on={purge['id']}")

    return opened


def usual(page):
    return page.locator("[data-usual-change]")


def said(page):
    return " ".join(usual(page).inner_text().split())


def tones(page):
    return page.evaluate("() => window.tones")


def test_it_is_said_before_the_valve_is_opened_and_while_it_runs(cellar_page):
    page = cellar_page("run")
    expect(usual(page)).to_be_visible()
    assert said(page) == USUALLY
    hand.tap(page, "opened")
    expect(usual(page)).to_be_visible()
    assert said(page) == USUALLY
    # watching stays what the screen says first
    assert hand.step(page).locator("h2.step").inner_text() == "Watch the glass from the side"


def test_what_other_tanks_lend_is_counted_apart(cellar_page):
    def past(now):
        lent = [was(tank, 5 + n, s, now) for tank in ("FV 2", "FV 3") for n, s in enumerate((100.0, 120.0, 140.0))]
        other_kind = [was("FV 3", 9, 300.0, now, solids="hops"), was("FV 1", 9, 300.0, now, solids="hops")]
        return [*(was("FV 1", 20 + n, s, now) for n, s in enumerate(OWN[:2])), *lent, *other_kind]

    page = cellar_page("run", made_past=past)
    expect(usual(page)).to_contain_text("From 2 purges here, 6 elsewhere.")


@pytest.mark.parametrize("made_past", [
    lambda now: [],
    lambda now: [was("FV 1", 20 + n, s, now) for n, s in enumerate(OWN[:2])],
    lambda now: [was("FV 2", 20 + n, s, now) for n, s in enumerate(OWN)],
    lambda now: [was("FV 1", 20 + n, s, now, solids="hops") for n, s in enumerate(OWN)],
], ids=["no past", "two purges", "another tank's", "other solids"])
def test_with_too_little_past_nothing_is_said(cellar_page, made_past):
    page = cellar_page("run", made_past=made_past, tone=True)
    page.wait_for_timeout(500)
    expect(usual(page)).to_be_hidden()
    hand.tap(page, "opened")
    heard = tones(page)
    hand.wait(page, 120_000)
    page.wait_for_timeout(500)
    expect(usual(page)).to_be_hidden()
    assert tones(page) == heard


def test_a_quiet_sound_where_it_begins_once_and_unlike_the_alarm(cellar_page):
    page = cellar_page("run", tone=True, buzz=True)
    expect(usual(page)).to_be_visible()
    hand.tap(page, "opened")
    page.wait_for_timeout(300)
    page.evaluate("() => { window.tones.length = 0; window.buzzed.length = 0; }")
    hand.wait(page, 44_000)
    page.wait_for_timeout(400)
    assert (tones(page), said(page)) == ([], USUALLY)
    hand.wait(page, 6_000)  # 0:50 is over
    expect(usual(page)).to_contain_text("Usually changes from now until 1:45. Watch the glass.")
    page.wait_for_timeout(400)
    # by the app: 330 and 440 Hz, soft; the alarm is three times 880 Hz, a saved tap once
    assert tones(page) == [330, 440]
    assert page.evaluate("() => window.buzzed") == [[40, 80, 40, 80, 40]]
    assert page.evaluate("() => window.volumes.at(-1)") < 0.5
    hand.wait(page, 60_000)
    expect(usual(page)).to_contain_text("Usually it changed by 1:45. Watch the glass.")
    page.wait_for_timeout(400)
    assert tones(page) == [330, 440]


def test_by_default_it_is_only_seen(cellar_page):
    page = cellar_page("run")
    expect(usual(page)).to_be_visible()
    hand.tap(page, "opened")
    hand.wait(page, 55_000)
    expect(usual(page)).to_contain_text("Usually changes from now until")
    assert page.evaluate("() => [window.tones, window.buzzed]") == [[], []]


def test_a_page_that_comes_back_later_does_not_sound_again(cellar_page):
    page = cellar_page("flowing", tone=True)
    expect(usual(page)).to_be_visible()
    hand.wait(page, 60_000)
    expect(usual(page)).to_contain_text("Usually changes from now until")
    page.reload()
    page.locator("[data-purge][data-ready]").wait_for()
    expect(usual(page)).to_contain_text("Usually changes from now until")
    page.wait_for_timeout(400)
    assert tones(page) == []


@pytest.mark.parametrize("gone", [0, 60_000, 120_000], ids=["before", "now", "late"])
def test_it_moves_no_button_and_stands_above_them_on_a_small_phone(cellar_page, gone):
    plain, told = cellar_page("flowing", made_past=lambda now: []), cellar_page("flowing")
    expect(usual(told)).to_be_visible()
    for page in (plain, told):
        hand.wait(page, gone)
        page.wait_for_timeout(400)
    for box in ("[data-event=closed]", "[data-event=colour-change]", "[data-event-link]"):
        assert told.evaluate(BOX, box) == plain.evaluate(BOX, box)
    assert told.evaluate(LINES_IN_SIGHT)
    expect(usual(told)).to_be_in_viewport(ratio=1)


@pytest.mark.parametrize("gone", [0, 660_000], ids=["at once", "after minutes"])
def test_all_lines_stand_above_the_buttons_beside_what_left_by_the_last_bucket_test(cellar_page, gone):
    def past(now):
        return [was("FV 1", 20 + n, s, now, readings={"flow": "2 gal/min"}) for n, s in enumerate(OWN)]

    page = cellar_page("flowing", made_past=past)
    expect(usual(page)).to_be_visible()
    hand.wait(page, gone)
    expect(hand.step(page).locator("[data-running-volume]")).to_contain_text("bucket test")
    page.wait_for_timeout(400)
    assert page.evaluate(LINES_IN_SIGHT)


def test_before_it_is_opened_all_lines_stand_above_the_buttons(cellar_page):
    page = cellar_page("run")
    expect(usual(page)).to_be_visible()
    assert page.evaluate(LINES_IN_SIGHT)
    expect(usual(page)).to_be_in_viewport(ratio=1)


def test_a_record_of_thousands_lends_its_latest_two_hundred(phone, served):
    page = hand.hurry(phone.new_page())
    page.goto(served.address)
    now = moment(page)
    tank = cellar.tank("FV 1")
    others = [was(f"FV {2 + n % 5}", n / 24.0, 60.0, now) for n in range(600)]
    cellar.keep(page, served, tank, *others)
    latest = sorted(others, key=lambda entry: entry["created"])[-200:]
    found = page.evaluate("""async ([url, tank]) => {
      const { take } = await import(url);
      const read = [];
      const getAll = IDBIndex.prototype.getAll;
      IDBIndex.prototype.getAll = function asked(...given) {
        const request = getAll.apply(this, given);
        request.addEventListener("success", () => read.push(request.result.length));
        return request;
      };
      const bodies = await take("browser/storage/past.js").pastElsewhere(tank);
      return [bodies.map(({ events }) => events[0].at), read];
    }""", [served.script, tank])
    assert found == [[entry["body"]["events"][0]["at"] for entry in latest], [200]]


GALLON = 3.785411784e-3  # m3, NIST Handbook 44


def lost(of, gallons, now, solids="trub"):
    return [was(of, 30 + n, 60.0, now, solids=solids, volume_lost=g * GALLON) for n, g in enumerate(gallons)]


def at_the_start(phone, served, made_past, **settings):
    """The first step of a purge of FV 1: what is said of the volume to expect."""
    page = hand.hurry(phone.new_page())
    page.goto(served.address)
    cellar.remember(page, served, **settings)
    tank = cellar.tank("FV 1")
    cellar.keep(page, served, tank, *made_past(moment(page)))
    hand.open_purge(page, served.address, f"#tank={tank['id']}")
    return page.locator("[data-expected]")


def test_what_usually_comes_out_and_its_buckets_are_said_by_the_kind_of_solids(phone, served):
    place = at_the_start(phone, served, lambda now: [
        *lost("FV 1", (4.0, 6.0, 7.0), now), *lost("FV 1", (30.0, 31.0), now - timedelta(days=20), solids="hops")])
    # by hand: the middle of 4, 6 and 7 gallons; two buckets of five. Of all five: 7 gallons.
    ready = "Have ready: 2 buckets of 5 gal."
    expect(place).to_have_text(f"Usually 6 gal comes out here, by 3 purges of such solids. {ready}")
    place.page.get_by_label("Hops").check()
    expect(place).to_have_text(f"Usually 7 gal comes out here, by 5 purges of any kind. {ready}")


def test_in_litres_the_buckets_hold_twenty(phone, served):
    place = at_the_start(phone, served, lambda now: lost("FV 1", (4.0,), now), system="metric")
    expect(place).to_have_text("15 L came out here, by 1 purge. Have ready: 1 bucket of 20 L.")


def test_without_a_past_no_volume_is_expected(phone, served):
    expect(at_the_start(phone, served, lambda now: [])).to_be_hidden()


def test_the_planned_draw_is_that_of_the_same_solids(cellar_page):
    page = cellar_page("margin", made_past=lambda now: [
        *lost("FV 1", (4.0, 6.0, 7.0), now), *lost("FV 1", (30.0, 31.0, 33.0, 35.0), now, solids="hops")])
    draw = hand.step(page).locator("[data-field=planned_draw] [data-entry]")
    assert float(draw.input_value()) == pytest.approx(6.0, abs=0.005)


def tank_page(phone, served, made_past):
    page = hand.hurry(phone.new_page())
    page.set_viewport_size(SMALL)
    page.goto(served.address)
    tank = cellar.tank("FV 1")
    cellar.keep(page, served, tank, *made_past(moment(page)))
    page.goto(f"{served.address}tanks/tank/#id={tank['id']}")
    page.locator("[data-of-tank][data-shown]").wait_for()
    return page.locator("[data-wait]")


def rested(now, count, a_day):
    """Purges after one, two and three days of rest in turn, each of which loses so much more or less, m3, for a day."""
    ago, made = 80.0, []
    for n in range(count + 1):
        rest = 1.0 + n % 3
        ago -= rest
        beer = 0.03 + a_day * rest + 0.00002 * (n % 2)
        made.append(was("FV 1", ago, 60.0, now, beer_in_solids=beer / 2.0, overrun=beer / 2.0))
    return made


def test_a_day_more_that_saved_is_told_in_the_phones_unit_with_its_interval(phone, served):
    place = tank_page(phone, served, lambda now: rested(now, 14, -0.002))
    # by hand: 2 L a day are 0.53 gal (NIST Handbook 44); the first of fifteen has no rest before it
    expect(place).to_contain_text("Trub: a day more of rest saved 0.53 gal of beer a purge here, from 14 purges.")
    expect(place).to_contain_text("no reason to leave solids past what is due")


def test_a_day_more_that_cost_is_told_too(phone, served):
    place = tank_page(phone, served, lambda now: rested(now, 14, 0.002))
    expect(place).to_contain_text("a day more of rest cost 0.53 gal of beer a purge here")


def test_few_purges_cannot_tell_yet(phone, served):
    place = tank_page(phone, served, lambda now: rested(now, 5, -0.002))
    expect(place).to_contain_text("Trub: cannot tell yet, from 5 purges")
    expect(place).to_contain_text("no reason to leave solids past what is due")


def test_a_rest_across_a_filling_is_none(phone, served):
    def past(now):
        at = cellar.instant(now - timedelta(days=78))
        filled = {
            "batch": cellar.id_of("batch"), "tank": cellar.id_of("FV 1"), "tank_name": "FV 1", "event": "filled",
            "at": at, "amount": None, "days": None, "note": None, "by": None,
        }
        return [*rested(now, 5, -0.002), cellar.entry("batch-event", cellar.id_of("filled"), at, filled)]

    # the first of six has no purge before it, the second a filling
    expect(tank_page(phone, served, past)).to_contain_text("Trub: cannot tell yet, from 4 purges")


def test_a_tank_that_was_never_purged_is_not_asked_to_wait(phone, served):
    expect(tank_page(phone, served, lambda now: [])).to_be_hidden()
