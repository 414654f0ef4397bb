"""What is in a tank, as a hand sees it: one tap for what happens, mended later, moved, emptied, drawn as one line."""

import json
import re
from datetime import UTC, datetime

import pytest
from cellar import entry, id_of, keep, remember, tank, unfinished
from playwright.sync_api import expect
from tankfoot.office.entry_check import entry_problems

NOON = datetime(2026, 3, 20, 12, 0, tzinfo=UTC)
SMALL = {"width": 360, "height": 640}
EVENTS = """async (url) => {
  const { everything } = (await import(url)).take("browser/storage/record.js");
  const all = (await everything()).filter(({ kind }) => ["batch", "batch-event"].includes(kind));
  return all.sort((a, b) => (a.body.at ?? "") < (b.body.at ?? "") ? -1 : 1);
}"""
VOLUMES = """async (url) => {
  const tanks = await (await import(url)).take("browser/storage/record.js").ofKind("tank");
  return Object.fromEntries(tanks.map(({ body }) => [body.name, body.beer_volume]));
}"""
# Chromium tells of each transaction that writes: counted by wrapping what begins one.
COUNT_WRITES = """() => {
  window.writes = [];
  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (name, mode, ...more) {
    if (mode === "readwrite" && name === "entries") window.writes.push(name);
    return begin.call(this, name, mode, ...more);
  };
}"""
# Worked by hand, in hL. What came in and went out of FV 1, with what each said of its give-or-take.
LEDGER = (
    # event,      as typed,           hL,  ± hL
    ("filled", "10 hL ± 0.3 hL", +10.0, 0.3),
    ("filled", "8 hL ± 0.4 hL", +8.0, 0.4),
    ("harvested", "50 L", -0.5, 0.0),
    ("taken", "20 L", -0.2, 0.0),
    ("taken", None, None, None),
    ("purge", 0.03, -0.3, 1.2),
)
LEFT = "17.0"  # worked by hand: 10 + 8 - 0.5 - 0.2 - 0.3
SPREAD = "1.3"  # worked by hand: the root of 0.3^2 + 0.4^2 + 1.2^2 = 0.09 + 0.16 + 1.44 = 1.69


def at(day, hour=6):
    return f"2026-03-{day:02d}T{hour:02d}:00:00.000Z"


def batch(beer):
    return entry("batch", id_of(beer), at(1), {"beer": beer, "notes": None})


def event(name, day, *, of="FV 1", beer="Pale", hour=6, amount=None, days=None, **more):
    body = {
        "batch": id_of(beer), "tank": id_of(of), "tank_name": of, "event": name, "at": at(day, hour), "amount": amount,
        "days": days, "note": None, "by": None,
    }
    return entry("batch-event", id_of(f"{of} {beer} {name} {day} {hour}"), at(day, hour), body | more)


def purge(day, lost=None, spread=None, *, of="FV 1", hour=8):
    """A finished purge, with what it lost in m3."""
    made = unfinished(of, "saved", ["begin"], at(day, hour))
    made["id"] = id_of(f"{of} purge {day} {hour}")
    del made["body"]["open"]
    made["body"]["result"] = {} if lost is None else {"volume_lost": {"value": lost, "uncertainty": spread}}
    return made


@pytest.fixture
def page(phone, served):
    page = phone.new_page()
    page.clock.install(time=NOON)
    page.goto(f"{served.address}about/")
    keep(page, served, tank("FV 1"), tank("FV 2", beer_volume=0.0))
    remember(page, served, system="metric")
    return page


def show(page, served, name="FV 1"):
    page.goto(f"{served.address}about/")  # another page: the address of the tank's differs by its hash alone
    page.goto(f"{served.address}tanks/tank/#id={id_of(name)}")
    expect(page.locator("[data-of-tank][data-shown]")).to_be_attached()
    return page.locator("[data-batch]")


def tap(view, name):
    view.locator("[data-quick]").get_by_role("button", name=name).click()


def stored(page, served):
    return [each for each in page.evaluate(EVENTS, served.script) if not each["deleted"]]


def said(page, served):
    return [each["body"]["event"] for each in stored(page, served) if each["kind"] == "batch-event"]


def volume(page, served, name="FV 1"):
    """hL."""
    return page.evaluate(VOLUMES, served.script)[name] * 10.0


def fill(view, beer, amount=""):
    view.locator("#batch-beer").fill(beer)
    view.get_by_label("Volume filled in").fill(amount)
    view.get_by_role("button", name="Filled now").click()


def test_an_empty_tank_is_filled_with_a_name_a_volume_and_one_tap(page, served):
    view = show(page, served)
    expect(view).to_contain_text("Nobody said what is in it.")
    fill(view, "Pale ale", "9 ± 0.2")
    expect(view.locator("[data-beer]")).to_have_text("Pale ale")
    # what was typed: the unit of a bare number goes with it
    (filling,) = [each["body"] for each in stored(page, served) if each["kind"] == "batch-event"]
    assert (filling["event"], filling["amount"], filling["tank_name"]) == ("filled", "9 ± 0.2 hL", "FV 1")
    assert datetime.fromisoformat(filling["at"]).replace(microsecond=0) >= NOON
    # the tank's own volume goes along, and the picture with it
    assert volume(page, served) == pytest.approx(9.0)
    expect(page.locator("[data-tank-picture] desc")).to_contain_text("beer 9 hL")
    expect(view.locator("[data-beer-in]")).to_contain_text("9.00 hL ± 0.20 hL")


def test_a_beer_without_a_name_is_asked_for(page, served):
    view = show(page, served)
    fill(view, "  ", "9")
    expect(view).to_contain_text("Give the beer a name.")
    assert stored(page, served) == []


def test_an_amount_that_is_none_is_said_so_and_nothing_is_noted(page, served):
    view = show(page, served)
    fill(view, "Pale ale", "9 psi")
    expect(view.locator("#batch-amount-problem")).to_contain_text("that unit measures something else")
    fill(view, "Pale ale", "-9")
    expect(view.locator("#batch-amount-problem")).to_contain_text("too low")
    assert stored(page, served) == []


@pytest.mark.parametrize(("name", "kind"), [
    ("Fermentation going", "fermenting"), ("Finished", "finished"), ("Cooled", "cooled"),
])
def test_what_has_no_amount_is_one_tap_with_a_way_back(page, served, name, kind):
    keep(page, served, batch("Pale"), event("filled", 10, amount="9 hL"))
    view = show(page, served)
    tap(view, name)
    expect(view.locator("[data-undo]")).to_contain_text("Noted")
    assert said(page, served) == ["filled", kind]
    # it keeps its place, so that no other comes under the finger
    expect(view.locator(f"[data-happened={kind}]")).to_be_disabled()
    page.clock.fast_forward(2000)
    view.get_by_role("button", name="Undo").click()
    expect(view.locator(f"[data-happened={kind}]")).to_be_enabled()
    assert said(page, served) == ["filled"]


def test_a_second_tap_in_the_same_moment_is_no_undo(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="9 hL"))
    view = show(page, served)
    # the clock stands still from before the first tap on, however long the page takes
    page.clock.pause_at(datetime.fromtimestamp(page.evaluate("Date.now()") / 1000.0 + 60.0, UTC))
    tap(view, "Cooled")
    expect(view.locator("[data-undo]")).to_be_visible()
    view.get_by_role("button", name="Undo").click()
    assert said(page, served) == ["filled", "cooled"]


def test_what_has_an_amount_asks_two_things_at_most(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="9 hL"))
    view = show(page, served)
    asked = {}
    for name in ("Yeast harvested", "Dry hops in", "Fruit in", "Beer taken", "Moved to a tank", "More filled in"):
        tap(view, name)
        asked[name] = view.locator("[data-event-form] .field:visible").count()
    assert max(asked.values()) == 2 and min(asked.values()) == 1, asked
    tap(view, "Dry hops in")
    view.get_by_label("Weight of hops").fill("4,5")
    view.locator("[data-event-form]").get_by_label("Days until it comes out").fill("3")
    view.get_by_role("button", name="Dry hops in, now").click()
    expect(view.locator("[data-undo]")).to_contain_text("Dry hops in")
    hops = stored(page, served)[-1]["body"]
    assert (hops["event"], hops["amount"], hops["days"]) == ("dry-hopped", "4,5 kg", 3)


def test_beer_in_the_tank_follows_a_ledger_worked_by_hand(page, served):
    entries = [
        purge(11, amount, spread / 10.0) if name == "purge" else event(name, 10, hour=hour, amount=amount)
        for hour, (name, amount, _, spread) in enumerate(LEDGER)
    ]
    # of another beer before, and of another tank: they count for nothing here
    others = [
        batch("Old"), event("filled", 1, beer="Old", amount="30 hL"), event("emptied", 9, beer="Old"),
        purge(8, 0.5, 0.1), batch("Other"), event("filled", 2, of="FV 2", beer="Other", amount="5 hL"),
    ]
    keep(page, served, batch("Pale"), *entries, *others)
    view = show(page, served)
    assert sum(amount for *_, amount, _ in LEDGER if amount is not None) == pytest.approx(float(LEFT))
    expect(view.locator("[data-beer-in]")).to_contain_text(f"{LEFT} hL ± {SPREAD} hL")
    # of the six movements one was not told
    expect(view.locator("[data-sure]")).to_contain_text("Of 1 movement of 6 nobody said how much")


def test_a_tank_that_says_otherwise_is_told_and_one_tap_takes_it_over(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="9 hL ± 0.5 hL"))
    view = show(page, served)
    # 15 hL is its own number, 6 more than 9 and so more than 0.5
    expect(view.locator("[data-differs]")).to_contain_text("The tank's own number says 15.0 hL")
    view.get_by_role("button", name="Take over 9.00 hL").click()
    expect(view.locator("[data-differs]")).to_be_hidden()
    assert volume(page, served) == pytest.approx(9.0)


def test_a_tank_that_says_the_same_within_the_give_or_take_is_left_alone(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="14.6 hL ± 0.5 hL"))
    # 15 - 14.6 = 0.4
    expect(show(page, served).locator("[data-differs]")).to_be_hidden()


def test_where_nobody_said_how_much_nothing_is_made_up(page, served):
    keep(page, served, batch("Pale"), event("filled", 10), event("taken", 11, amount="10 L"))
    view = show(page, served)
    expect(view.locator("[data-sure]")).to_contain_text("cannot be told")
    expect(view.locator("[data-beer-in] output")).to_have_count(0)


def test_a_batch_moves_to_another_tank_in_one_write(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="9 hL"))
    view = show(page, served)
    tap(view, "Moved to a tank")
    view.get_by_label("To which tank?").select_option(label="FV 2")
    view.get_by_label("Volume moved").fill("8.5 hL")
    page.evaluate(COUNT_WRITES)
    view.get_by_role("button", name="Moved out, now").click()
    expect(view.locator("[data-since]")).to_contain_text("It held Pale.")
    assert page.evaluate("window.writes") == ["entries"]
    out, into = [each["body"] for each in stored(page, served) if each["body"].get("event", "").startswith("moved")]
    if out["event"] == "moved-in":
        out, into = into, out
    assert (out["tank_name"], into["tank_name"]) == ("FV 1", "FV 2")
    assert out["at"] == into["at"] and out["batch"] == into["batch"] and out["amount"] == into["amount"] == "8.5 hL"
    assert (volume(page, served), volume(page, served, "FV 2")) == (0.0, pytest.approx(8.5))
    other = show(page, served, "FV 2")
    expect(other.locator("[data-beer]")).to_have_text("Pale")
    # one life in two tanks
    expect(other.locator("[data-line] desc")).to_contain_text("Filled into FV 1")
    expect(other.locator("[data-line] desc")).to_contain_text("Moved to FV 2")
    expect(other.locator("[data-line] .life")).to_have_count(2)
    expect(other.locator("[data-line] .hollow")).to_have_count(1)


def test_a_move_is_taken_back_in_both_tanks(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="15 hL"))
    view = show(page, served)
    tap(view, "Moved to a tank")
    view.get_by_label("To which tank?").select_option(label="FV 2")
    view.get_by_role("button", name="Moved out, now").click()
    expect(view.locator("[data-undo]")).to_be_visible()
    # nobody said how much: all of it
    assert (volume(page, served), volume(page, served, "FV 2")) == (0.0, pytest.approx(15.0))
    page.clock.fast_forward(2000)
    view.get_by_role("button", name="Undo").click()
    expect(view.locator("[data-beer]")).to_have_text("Pale")
    assert said(page, served) == ["filled"]
    assert (volume(page, served), volume(page, served, "FV 2")) == (pytest.approx(15.0), 0.0)


def test_another_beer_in_a_tank_that_holds_one_is_asked_about_first(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="6 hL ± 0.1 hL"))
    view = show(page, served)
    tap(view, "More filled in")
    fill(view, "Stout", "3 hL")
    expect(view.locator("[data-ask]")).to_contain_text("FV 1 holds Pale. What became of it?")
    assert said(page, served) == ["filled"]
    view.get_by_role("button", name="Stout is on top of Pale").click()
    expect(view.locator("[data-beer]")).to_have_text("Stout")
    # worked by hand: 6 that were there and 3 on top
    expect(view.locator("[data-beer-in]")).to_contain_text("9.00 hL ± 0.10 hL")
    expect(view.locator("[data-line] desc")).to_contain_text("(Pale)")


def test_another_beer_after_the_first_was_let_out(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="6 hL"))
    view = show(page, served)
    tap(view, "More filled in")
    fill(view, "Stout", "3 hL")
    view.get_by_role("button", name="Pale was let out before").click()
    expect(view.locator("[data-beer]")).to_have_text("Stout")
    assert sorted(said(page, served)) == ["emptied", "filled", "filled"]
    assert volume(page, served) == pytest.approx(3.0)


def test_the_next_brew_of_the_same_beer_is_the_same_batch(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="6 hL"))
    view = show(page, served)
    tap(view, "More filled in")
    fill(view, "Pale", "3 hL")
    expect(view.locator("[data-beer-in]")).to_contain_text("9.00 hL")
    assert len({each["body"]["batch"] for each in stored(page, served) if each["kind"] == "batch-event"}) == 1


def test_an_emptied_tank_holds_nothing_and_a_purge_that_is_not_finished_is_named(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="9 hL"))
    keep(page, served, unfinished("FV 1", "ready", ["begin"], at(20)))
    view = show(page, served)
    expect(view.locator("[data-begun]")).to_be_hidden()
    tap(view, "Emptied")
    # the fact is taken, whatever is under way
    expect(view.locator("[data-since]")).to_contain_text("Empty since")
    expect(view.locator("[data-begun]")).to_contain_text("A purge of this tank is not finished.")
    expect(view.locator("[data-quick]")).to_be_hidden()
    assert volume(page, served) == 0.0
    expect(page.locator("[data-tank-picture] desc")).to_contain_text("beer 0 hL")


def test_after_a_tap_the_form_of_the_numbers_still_saves(page, served):
    view = show(page, served)
    fill(view, "Pale ale", "9 hL")
    expect(view.locator("[data-beer]")).to_have_text("Pale ale")
    page.locator("[data-numbers] > summary").click()
    expect(page.locator("[data-field=beer_volume] [data-entry]")).to_have_value("9")
    page.get_by_label("Name", exact=True).fill("FV 1 b")
    page.get_by_role("button", name="Save", exact=True).last.click()
    page.wait_for_url("**/tanks/")
    assert volume(page, served, "FV 1 b") == pytest.approx(9.0)


def mend(view, name):
    view.locator("[data-story] > summary").click()
    view.locator("tr").filter(has_text=name).get_by_role("button").click()
    return view.locator("[data-mend]")


def test_the_time_of_an_event_is_mended_and_what_was_there_is_kept(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="9 hL"), event("cooled", 19))
    view = show(page, served)
    form = mend(view, "Cooled")
    form.get_by_label("When it happened").fill("2026-03-18T22:15")
    form.get_by_role("button", name="Save").click()
    expect(view.locator("[data-undo]")).to_contain_text("Mended: Cooled")
    cooled = stored(page, served)[-1]
    # this phone's clock is UTC's in the tests' browser, or else what it shows
    offset = page.evaluate("new Date('2026-03-18T22:15').toISOString()")
    assert cooled["body"]["at"] == offset
    assert [old["body"]["at"] for old in cooled["history"]] == [at(19)]
    expect(form).to_be_hidden()


def test_a_time_to_come_is_not_taken(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="9 hL"), event("cooled", 19))
    form = mend(show(page, served), "Cooled")
    form.get_by_label("When it happened").fill("2026-04-18T22:15")
    form.get_by_role("button", name="Save").click()
    expect(form).to_contain_text("not later than now")
    assert stored(page, served)[-1]["body"]["at"] == at(19)


def test_an_amount_is_mended_and_the_beer_follows(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="9 hL"), event("harvested", 12))
    view = show(page, served)
    form = mend(view, "Yeast harvested")
    form.get_by_label("Volume of yeast").fill("40")
    form.get_by_role("button", name="Save").click()
    # worked by hand: 9 - 0.4
    expect(view.locator("[data-beer-in]")).to_contain_text("8.60 hL")
    assert stored(page, served)[-1]["body"]["amount"] == "40 L"
    # its time, to the second, is what it was
    assert stored(page, served)[-1]["body"]["at"] == at(12)


def test_a_beer_that_was_typed_wrong_gets_its_name_where_it_was_filled(page, served):
    keep(page, served, batch("Pail"), event("filled", 10, beer="Pail", amount="9 hL"))
    view = show(page, served)
    form = mend(view, "Filled into FV 1")
    form.get_by_label("Beer", exact=True).fill("Pale")
    form.get_by_role("button", name="Save").click()
    expect(view.locator("[data-beer]")).to_have_text("Pale")
    named, filling = sorted(stored(page, served), key=lambda each: each["kind"])
    assert [old["body"]["beer"] for old in named["history"]] == ["Pail"]
    # nothing of the filling was changed
    assert filling["history"] == []


def test_a_mended_move_stays_one_move(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="9 hL"), event("moved-out", 12, amount="9 hL"),
         event("moved-in", 12, of="FV 2", amount="9 hL"))
    view = show(page, served, "FV 2")
    form = mend(view, "Moved to FV 2")
    form.get_by_label("When it happened").fill("2026-03-11T08:00")
    form.get_by_label("Volume moved").fill("8 hL")
    form.get_by_role("button", name="Save").click()
    expect(view.locator("[data-undo]")).to_contain_text("Mended")
    pair = [each["body"] for each in stored(page, served) if each["body"].get("event", "").startswith("moved")]
    assert len({(each["at"], each["amount"]) for each in pair}) == 1 and pair[0]["amount"] == "8 hL"


def test_an_event_is_deleted_as_a_tombstone_and_had_back(page, served):
    keep(page, served, batch("Pale"), event("filled", 10, amount="9 hL"), event("emptied", 19))
    view = show(page, served)
    mend(view, "Emptied").get_by_role("button", name="Delete it").click()
    # what was emptied by a wrong tap is in the tank again
    expect(view.locator("[data-beer]")).to_have_text("Pale")
    gone = [each for each in page.evaluate(EVENTS, served.script) if each["deleted"]]
    assert [each["body"]["event"] for each in gone] == ["emptied"]
    page.clock.fast_forward(2000)
    view.get_by_role("button", name="Undo").click()
    expect(view.locator("[data-since]")).to_contain_text("Empty since")


def test_a_demo_tanks_events_are_demo_entries(page, served):
    keep(page, served, tank("FV 3") | {"demo": True})
    fill(show(page, served, "FV 3"), "Pale ale", "9 hL")
    expect(page.locator("[data-batch] [data-beer]")).to_have_text("Pale ale")
    assert {each["demo"] for each in stored(page, served)} == {True}


MONTH = (
    batch("Pale"), event("filled", 1, amount="9 hL"), event("fermenting", 2), event("finished", 7),
    event("harvested", 7, hour=8, amount="30 L"), event("dry-hopped", 7, hour=9, amount="3 kg", days=4),
    event("cooled", 14),
    *(purge(day, 0.005, 0.001) for day in (2, 7, 11, 12, 15, 18)),
)


def test_the_picture_is_to_scale_its_words_do_not_overlap_and_a_table_stands_behind_it(page, served):
    keep(page, served, *MONTH)
    view = show(page, served)
    line = view.locator("[data-line]")
    assert line.get_attribute("role") == "img"
    # 6 events, 6 purges, and now
    assert line.locator("circle.event").count() == 6 and line.locator("path.purge").count() == 6
    assert line.locator("path.end").count() == 1
    boxes = [each.bounding_box() for each in line.locator("text").all()]
    assert len(boxes) == 13
    for above, below in zip(boxes, boxes[1:], strict=False):
        assert above["y"] + above["height"] <= below["y"] + 4.0  # the line box is taller than its letters
    wide = line.bounding_box()
    assert all(box["x"] + box["width"] <= wide["x"] + wide["width"] for box in boxes)
    # by hand: filled on the 1st, finished on the 7th, cooled on the 14th: 6 of 13 days
    first, finished, cooled = (float(line.locator("circle.event").nth(n).get_attribute("cy")) for n in (0, 2, 5))
    assert (finished - first) / (cooled - first) == pytest.approx(6.0 / 13.0, abs=0.002)
    told = line.locator("desc").text_content()
    view.locator("[data-story] > summary").click()
    rows = view.locator("tbody tr")
    assert rows.count() == 12
    for what in rows.locator("td:nth-of-type(1)").all_inner_texts():
        assert what in told
    expect(rows.filter(has_text="Dry hops in")).to_contain_text("3 kg, 4 days")
    link = rows.filter(has_text="Purge").first.get_by_role("link")
    expect(link).to_have_attribute("href", re.compile("record/entry/#id="))


def test_a_purge_belongs_to_the_batch_that_was_in_the_tank(page, served):
    keep(page, served, batch("Old"), event("filled", 1, beer="Old"), event("emptied", 9, beer="Old"), batch("Pale"),
         event("filled", 10), purge(5), purge(9, hour=20), purge(12))
    view = show(page, served)
    assert view.locator("[data-line] path.purge").count() == 1
    for of, beer in ((purge(5), "Old"), (purge(12), "Pale"), (purge(9, hour=20), None)):
        page.goto(f"{served.address}about/")
        page.goto(f"{served.address}record/entry/#id={of['id']}")
        expect(page.locator("[data-record-entry][data-ready]")).to_be_attached()
        if beer:
            expect(page.locator("[data-of-batch]")).to_have_text(f"Batch: {beer}")
        else:
            expect(page.locator("[data-of-batch]")).to_be_hidden()


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_on_a_small_phone_nothing_is_cut_and_every_target_is_large(page, served, theme):
    page.set_viewport_size(SMALL)
    page.emulate_media(color_scheme=theme)
    keep(page, served, *MONTH)
    view = show(page, served)
    view.locator("[data-story] > summary").click()
    tap(view, "Dry hops in")
    view.locator("tr").filter(has_text="Cooled").get_by_role("button").click()
    assert page.evaluate("document.documentElement.scrollWidth") <= SMALL["width"]
    small = view.evaluate("""(view) => [...view.querySelectorAll("button, a, summary, select, input")]
      .filter((each) => each.checkVisibility()).map((each) => [each.textContent, each.getBoundingClientRect()])
      .filter(([, box]) => box.height < 56 || box.width < 56).map(([text, box]) => [text, box.width, box.height])""")
    assert small == []


def test_what_a_tap_noted_is_sound_for_the_desk(page, served):
    view = show(page, served)
    fill(view, "Pale ale", "9 ± 0.2")
    tap(view, "Fermentation going")
    expect(view.locator("[data-undo]")).to_contain_text("Fermentation going")
    for each in stored(page, served):
        assert entry_problems(each, "here") == [], json.dumps(each)
