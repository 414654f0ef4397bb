"""Two paces of one table: who gets which, what each asks of a hand, and that the short one leaves out nothing."""

import cellar
import hand
import pytest
import taps
from playwright.sync_api import expect
from tankfoot.checklists.practice import stacks
from tankfoot.office.check import contradictions
from tankfoot.purge.left import stack_left
from tankfoot.purge.machine import LATEST, begins, next_state, rows, state_after, tables
from tankfoot.purge.pace import answers, screen, why_every_step
from test_purge_table import at

NOW = "2026-05-01T07:00:00.000Z"
WHOLE = len(stacks())
TICK = 200  # ms, of the page's clocks
TABLES = [LATEST, *rows()[LATEST]["changes"]]


def purge(day, by="AB", pace=None, state="saved", trouble=False):
    data = {"data": {"pace": pace}} if pace else {}
    events = [{"event": "begin", "at": f"2026-{day}T06:00:00.000Z", **data}, *[{"event": "trouble"}] * trouble]
    return {"initials": by, "state": state, "events": [*events, {"event": "save", "at": f"2026-{day}T07:00:00.000Z"}]}


def practice(day, by="AB", mistakes=0, count=WHOLE):
    answers = [{"right": place >= mistakes, "at": f"2026-{day}T07:00:00.000Z"} for place in range(count)]
    return {"initials": by, "answers": answers}


def rehearsal(day, by="AB", mistakes=0):
    return practice(day, by, mistakes, 1) | {"exercise": "rehearsal"}


FIVE, PRACTISED = [purge("04-20")] * 5, [practice("04-20")]


# 2026: April has 30 days, so that thirty days before the first of May are the first of April.
@pytest.mark.parametrize("initials, purges, practices, why", [
    ("AB", FIVE, PRACTISED, None),
    ("", FIVE, PRACTISED, "nobody"),
    (None, FIVE, PRACTISED, "nobody"),
    ("CD", FIVE, PRACTISED, "new"),
    ("AB", FIVE[:4], PRACTISED, "new"),
    ("AB", [*FIVE[:4], purge("04-20", state="rinse")], PRACTISED, "new"),
    ("AB", [*FIVE[:4], purge("04-20", by="CD")], PRACTISED, "new"),
    ("AB", [purge("04-20", pace="short")], PRACTISED, None),
    ("AB", [purge("04-01")] * 5, PRACTISED, "away"),
    ("AB", [purge("04-02")] * 5, PRACTISED, None),
    ("AB", FIVE, [], "practice"),
    ("AB", FIVE, [practice("04-01")], "practice"),
    ("AB", FIVE, [practice("04-20", mistakes=1)], "practice"),
    ("AB", FIVE, [practice("04-20", count=WHOLE - 1)], "practice"),
    ("AB", FIVE, [practice("04-20", by="CD")], "practice"),
    ("AB", FIVE, [practice("04-28", mistakes=1), *PRACTISED], None),
    ("AB", FIVE, [rehearsal("04-20")], None),
    ("AB", FIVE, [rehearsal("04-20", mistakes=1)], "practice"),
    ("AB", FIVE, [rehearsal("04-01")], "practice"),
    ("AB", FIVE, [rehearsal("04-20", by="CD")], "practice"),
])
def test_who_is_trained_for_the_short_pace(initials, purges, practices, why):
    assert why_every_step(initials, purges, practices, NOW, WHOLE) == why
    assert why_every_step(initials, purges, practices, NOW, WHOLE, True) == "site"


def test_telling_that_it_went_wrong_changes_no_pace():
    told = [purge("04-20", trouble=True)] * 5
    assert why_every_step("AB", told, PRACTISED, NOW, WHOLE) is None
    assert why_every_step("AB", [*FIVE, purge("04-29", trouble=True, state="stop-leak")], PRACTISED, NOW, WHOLE) is None


def shared(table):
    """Every screen that steps share: the step that it begins with, and the events before it, for every kind of tank."""
    for begin in begins():
        for state, before in ways(table, begin).items():
            if len(screen(state, before, table)["steps"]) > 1:
                yield state, before


def ways(table, begin):
    """{state: the names of the fewest events that lead there} of a purge that an event begins."""
    found, ahead = {"choose": []}, [[begin]]
    while ahead:
        names = ahead.pop(0)
        state = state_after(at(*names), table)
        if state not in found:
            found[state] = names
            ahead += [[*names, event] for event in tables()[table][state].events]
    return found


@pytest.mark.parametrize("table", TABLES)
def test_no_gate_and_no_step_at_which_beer_can_run_shares_a_screen(table):
    found = list(shared(table))
    assert {state for state, _ in found} >= {"choose", "pressure", "after", "takedown", "topup"}
    for state, before in found:
        assert not [step for step in screen(state, before, table)["steps"]
                    if tables()[table][step].gate or tables()[table][step].running or tables()[table][step].stop]


@pytest.mark.parametrize("table", TABLES)
def test_an_answer_saves_a_walk_through_the_table_and_no_stop_and_no_fact_is_missing(table):
    for state, before in shared(table):
        names = before or ["begin"]
        steps, given = screen(state, before, table)["steps"], answers(state, before, table)
        reached = set()
        for answer in given:
            reached.add((answer["event"], state_after(at(*before, *answer["saves"]), table)))
        for step in steps:
            for event in tables()[table][step].events:
                target = next_state(step, event, names, table)
                is_fact = event in tables()[table][step].facts
                if is_fact or tables()[table][target].stop or tables()[table][target].hold:
                    assert (event, target) in reached, (step, event)


@pytest.mark.parametrize("table", TABLES)
def test_every_step_of_a_shared_screen_stands_on_one_that_is_shown(table):
    for state, before in shared(table):
        steps, shows = screen(state, before, table)["steps"], screen(state, before, table)["shows"]
        unseen = set(steps) - set(shows)
        # hooking up stands beside the wetting, on the screen before: they are told together
        assert unseen <= {"hookup"} and (not unseen or "hookup" in screen("sanitise", before[:-1], table)["shows"])


def test_a_stack_that_was_told_of_with_the_wetting_hangs():
    events = [{"event": "begin", "data": {"pace": "short"}}, {"event": "wet"}]
    assert stack_left(events, "contact") == "pressure"
    assert stack_left([{"event": "begin"}, {"event": "wet"}], "contact") is None


@pytest.fixture(scope="module")
def walks(chromium, served):
    made = {}
    for pace in ("every step", "short"):
        context = chromium.new_context(**taps.PHONE, service_workers="block")
        walk = taps.walk(context, served, pace)
        page = context.new_page()
        page.goto(served.address)
        purges = page.evaluate(ENTRIES, served.script)
        made[pace] = walk, max(purges, key=lambda entry: entry["created"])
        context.close()
    return made


ENTRIES = 'async (url) => (await import(url)).take("browser/storage/record.js").ofKind("purge")'


def test_a_trained_hand_taps_eight_times_beside_the_gates_and_types_two_numbers(walks, tell):
    short, every = walks["short"][0], walks["every step"][0]
    tell(str(short))
    tell(str(every))
    assert short.taps <= 8 and len(short.numbers) <= 2
    assert short.gates == every.gates == sum(len(states) for states in short.screens if is_gate(states[0]))


def is_gate(state):
    return tables()[LATEST][state].gate


def test_every_gate_has_a_screen_of_its_own_and_no_line_is_missing(walks):
    (short, _), (every, _) = walks["short"], walks["every step"]
    assert all(len(states) == 1 for states in short.screens if any(map(is_gate, states)))
    assert taps.missing(every, short) == []
    assert len(every.lines) > 50


def test_both_paces_save_the_same_events_and_check(walks):
    purges = {pace: entry["body"] for pace, (_, entry) in walks.items()}
    every, short = ([event["event"] for event in body["events"]] for body in purges.values())
    assert every == short and purges["short"]["state"] == "saved"
    assert contradictions([entry for _, entry in walks.values()]) == []
    assert "pace" not in purges["every step"]["events"][0]["data"]
    assert purges["short"]["events"][0]["data"]["pace"] == "short"
    # by the gauge, 12 to 10.5 psi, as Boyle has it: 1.5 / 25.2 of the headspace, and a percent more for CO2
    lost = [body["result"]["volume_lost"]["value"] for body in purges.values()]
    assert lost[0] == pytest.approx(lost[1], rel=0.01)


@pytest.fixture
def page(phone, served):
    """A trained hand's phone at the start of a purge, its clock turned on instead of waited for."""
    page = hand.hurry(phone.new_page())
    page.set_viewport_size(taps.SMALL)
    page.goto(served.address)
    cellar.remember(page, served, initials=taps.BY, region="us")
    known = taps.known_cellar(cellar.moment(page.evaluate("Date.now()")))
    cellar.keep(page, served, *known)
    return hand.open_purge(page, served.address, f"#tank={known[0]['id']}")


def press(page, state, event):
    hand.look(page)
    page.locator(f"[data-step={state}] [data-event={event}]").locator("visible=true").first.click()


def is_at(page, *states):
    page.wait_for_function(f"() => JSON.stringify(({taps.STATES})()) === '{taps._json(states)}'")


def to_the_gauge(page):
    press(page, "ready", "all-there")
    for state, event in (("cap-valve", "across"), ("cap-clamp", "outer"), ("cap-off", "cap-off"), ("sanitise", "wet")):
        is_at(page, state)
        press(page, state, event)
    is_at(page, *GAUGE)


GAUGE = ("contact", "pressure", "gas", "margin")


def events(page, served):
    """The names of the events of the purge under way."""
    (body,) = [body for body in cellar.kept(page, served) if "open" in body]
    return [event["event"] for event in body["events"]], body


def test_the_first_screen_says_the_pace_and_why_and_a_hand_may_choose_every_step(page, served):
    says = page.locator("[data-pace-says]")
    is_at(page, "choose", "ready")
    expect(says).to_have_text("Short pace: trained, and in practice.")
    expect(page.locator("[data-pace-way], [data-to-rehearsals]").locator("visible=true")).to_have_count(0)
    page.get_by_role("button", name="One step at a time").click()
    is_at(page, "choose")
    expect(says).to_have_text("Every step: chosen here.")
    cellar.remember(page, served, every_step=True)
    page.reload()
    expect(says).to_have_text("Every step: this site wants it so.")
    expect(page.get_by_role("button", name="Several steps at a time")).to_be_hidden()


def test_a_hand_out_of_practice_is_led_to_a_rehearsal(phone, served):
    page = hand.hurry(phone.new_page())
    page.goto(served.address)
    cellar.remember(page, served, initials=taps.BY)
    known = taps.known_cellar(cellar.moment(page.evaluate("Date.now()")))
    cellar.keep(page, served, *(entry for entry in known if entry["kind"] != "training"))
    hand.open_purge(page, served.address, f"#tank={known[0]['id']}")
    expect(page.locator("[data-pace-says]")).to_contain_text("no practice or rehearsal")
    page.locator("[data-pace-way]").click()
    page.locator("[data-rehearsals][data-ready]").wait_for()


def test_one_tap_is_taken_back_by_one_undo(page, served):
    to_the_gauge(page)
    hand.wait(page, 61_000)
    page.keyboard.type("12")
    page.keyboard.press("Enter")
    is_at(page, "run")
    names, body = events(page, served)
    assert names[-5:] == ["time-over", "hooked-up", "at-pressure", "gas-shut", "fits"]
    assert len({event["at"] for event in body["events"][-5:]}) == 1
    hand.wait(page, hand.LOOK)
    page.get_by_role("button", name="Undo the last tap").click()
    is_at(page, *GAUGE)
    names, _ = events(page, served)
    assert names[-5:] == ["undo"] * 5 and state_after(at(*names)) == "contact"


def test_once_the_first_screen_is_taken_back_a_hand_may_begin_at_every_step(page, served):
    press(page, "ready", "all-there")
    is_at(page, "cap-valve")
    hand.wait(page, hand.LOOK)
    page.get_by_role("button", name="Undo the last tap").click()
    is_at(page, "choose", "ready")
    hand.wait(page, hand.LOOK)
    page.get_by_role("button", name="One step at a time").click()
    is_at(page, "choose")
    hand.type_readings(page, {"choose": {"temperature": "36 °F"}})
    press(page, "choose", "begin")
    is_at(page, "ready")
    names, body = events(page, served)
    assert names == ["begin", "all-there", "undo", "undo", "begin"]
    assert body["events"][0]["data"]["pace"] == "short" and "pace" not in body["events"][-1]["data"]


def test_before_the_time_is_over_no_way_leads_on_and_a_fact_is_told_at_once(page, served):
    to_the_gauge(page)
    page.keyboard.type("12")
    page.keyboard.press("Enter")
    expect(page.locator("[data-step=margin] [data-event=fits]")).to_be_disabled()
    is_at(page, *GAUGE)
    press(page, "pressure", "already-open")
    is_at(page, "already-open")
    names, body = events(page, served)
    assert names[-3:] == ["skip", "hooked-up", "already-open"] and body["events"][-3]["data"]["reason"]


def test_above_the_plate_the_way_on_is_shut_and_it_can_be_told_while_the_clock_runs(page, served):
    to_the_gauge(page)
    page.keyboard.type("20")
    expect(page.locator("[data-plate-stop]:visible")).to_have_count(1)
    expect(page.locator("[data-plate-stop]:visible h2")).to_be_in_viewport(ratio=1)
    expect(page.locator("[data-step=pressure] [data-event=above-plate]")).to_be_in_viewport(ratio=1)
    way_on = page.locator("[data-step=margin] [data-event=fits]")
    for _ in range(2):  # while the clock runs, and once it is over
        page.wait_for_timeout(3 * TICK)
        expect(way_on).to_be_hidden()
        hand.wait(page, 61_000)
    press(page, "pressure", "above-plate")
    is_at(page, "stop-plate")


def test_a_draw_that_takes_too_much_shuts_the_way_with_the_gas_shut_and_says_why_in_sight(page, served):
    to_the_gauge(page)
    hand.wait(page, 61_000)
    page.keyboard.type("0")
    danger = page.locator("[data-vacuum-stop]:visible h2")
    expect(danger).to_have_text("DANGER")
    expect(danger).to_be_in_viewport(ratio=1)
    page.keyboard.press("Enter")
    expect(page.locator("[data-step=margin] [data-event=fits]")).to_be_hidden()
    is_at(page, *GAUGE)
    press(page, "gas", "gas-on")
    is_at(page, "run")
    names, body = events(page, served)
    assert names[-4:] == ["time-over", "hooked-up", "at-pressure", "gas-on"] and body["gas_shut"] is False


def test_what_the_last_purge_here_told_is_known_and_the_volume_runs_by_its_bucket_test(page, served):
    to_the_gauge(page)
    hand.wait(page, 61_000)
    page.keyboard.type("12")
    page.keyboard.press("Enter")
    is_at(page, "run")
    press(page, "run", "opened")
    is_at(page, "flowing")
    hand.wait(page, 30_000)
    # the last purges ran at 2 gal/min: a gallon in half a minute
    expect(page.locator("[data-step=flowing] [data-running-volume]")).to_contain_text("by the last bucket test here")
    expect(page.locator("[data-step=flowing] [data-running-volume]")).to_contain_text("1.")
