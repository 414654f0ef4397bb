"""Rules that a screen and a report must agree on: the same in both languages, and what an outside sum says of them."""

import json
import math
import random
import statistics
from importlib.resources import files
from pathlib import Path

import pytest
from CoolProp.CoolProp import PropsSI
from fluids.geometry import TANK
from tankfoot.checklists.standing import is_finished, lines_left, people_wanted, standing_lines
from tankfoot.purge.outcome import UnreadReading
from tankfoot.quantities.units import SYSTEMS
from tankfoot.tanks.after import tank_after
from tankfoot.tanks.due import by_due, end_of, in_days_or_hours
from tankfoot.tanks.gas import last_pressure, vented_gas
from tankfoot.tanks.shape import tank_shape
from tankfoot.usual.median import median
from tankfoot.usual.purges import usual_result

CLOSE = 1e-12  # relative
RECORD = Path(str(files("tankfoot"))) / "site" / "assets" / "demo" / "record.json"
SEED = 20260301
HOUR, DAY = 3600.0, 86400.0
PSI = 6894.757293168  # Pa, NIST SP 811, appendix B

ANSWERS_IN_BROWSER = """async (given) => {
  const { url, module: path, name, calls } = JSON.parse(given);
  const module = await (await import(url)).take(path);
  return JSON.stringify(calls.map((call) => {
    try { return { answer: module[name](...call) }; }
    catch (error) { return { refused: error.code ?? String(error) }; }
  }));
}"""


@pytest.fixture(scope="module")
def alike(chromium, served):
    """Asks both languages the same; what they answer is the same, and is returned."""
    page = chromium.new_page(service_workers="block")
    page.goto(served.address)

    def ask(module, python, calls):
        first, *rest = python.__name__.split("_")
        name = first + "".join(map(str.capitalize, rest))
        given = json.dumps({"url": served.script, "module": module, "name": name, "calls": calls})
        ours = [answer(python, *call) for call in calls]
        theirs = json.loads(page.evaluate(ANSWERS_IN_BROWSER, given))
        for call, our, their in zip(calls, ours, theirs, strict=True):
            assert same(our, their), (name, call)
        return [each.get("answer") for each in theirs]

    yield ask
    page.close()


def answer(python, *call):
    try:
        return json.loads(json.dumps({"answer": python(*call)}))
    except UnreadReading as unread:
        return {"refused": unread.code}


def same(our, their):
    if isinstance(our, float) and isinstance(their, int | float):
        return math.isclose(our, their, rel_tol=CLOSE)
    if isinstance(our, dict) and isinstance(their, dict):
        return our.keys() == their.keys() and all(same(our[key], their[key]) for key in our)
    if isinstance(our, list) and isinstance(their, list):
        return len(our) == len(their) and all(map(same, our, their))
    return our == their


def demo(kind):
    entries = json.loads(RECORD.read_text(encoding="utf-8"))["entries"]
    return [entry for entry in entries if entry["kind"] == kind and not entry["deleted"]]


def tank(**changes):
    body = {
        "name": "FV 1", "diameter": 1.2, "straight_height": 1.5, "cone_angle": math.radians(60.0), "head_depth": 0.2,
        "head_volume": None, "beer_volume": 1.5, "temperature": 275.0, "pressure": 80000.0, "hold_pressure": 90000.0,
    }
    return body | changes


def drawn_tank(rng):
    return tank(
        diameter=rng.uniform(0.5, 4.0), straight_height=rng.uniform(0.0, 5.0), cone_angle=rng.uniform(0.4, math.pi),
        head_depth=rng.choice((0.0, rng.uniform(0.0, 0.5))), head_volume=rng.choice((None, None, 0.0, 0.3)),
        beer_volume=rng.choice((0.0, rng.uniform(0.0, 0.3), rng.uniform(0.0, 60.0))),
        temperature=rng.uniform(270.0, 300.0), pressure=rng.choice((None, 0.0, -500.0, rng.uniform(0.0, 2e5))),
        hold_pressure=rng.choice((None, rng.uniform(0.0, 2e5))),
    )


@pytest.mark.parametrize("depth", [0.0, 0.25])
@pytest.mark.parametrize("beer", [0.1, 0.9, 2.0])
def test_a_tanks_shape_is_the_reference_librarys(beer, depth):
    shape = tank_shape(tank(beer_volume=beer, head_depth=depth))
    head = {"sideB": "spherical", "sideB_a": depth} if depth else {}
    reference = TANK(D=1.2, L=1.5, horizontal=False, sideA="conical", sideA_a=0.6 / math.tan(math.radians(30)), **head)
    # fluids.geometry.TANK: V_total, V_sideB, V_from_h; sideA_a is the cone's height by hand
    assert shape["cone"] == pytest.approx(reference.sideA_a)
    assert shape["total"] == pytest.approx(reference.V_total)
    assert shape["head"] == pytest.approx(reference.V_sideB, abs=1e-15)
    assert reference.V_from_h(shape["level"]) == pytest.approx(beer, rel=1e-9)
    assert shape["headspace"] == pytest.approx(reference.V_total - beer)


def test_beer_in_the_head_has_no_level_and_an_empty_tank_stands_at_its_tip():
    # by hand: cone and straight side hold 2.09 m3
    assert tank_shape(tank(beer_volume=2.2))["level"] is None
    assert tank_shape(tank(beer_volume=0.0))["level"] == 0.0


def test_a_tanks_shape_is_the_same_in_both_languages(alike):
    rng = random.Random(SEED)
    tanks = [[drawn_tank(rng)] for _ in range(600)] + [[entry["body"]] for entry in demo("tank")]
    levels = [shape["level"] for shape in alike("tanks/shape.js", tank_shape, tanks)]
    assert None in levels and 0.0 in levels


def test_the_gas_that_is_let_out_is_the_reference_equations():
    body = tank(pressure=10.0 * PSI, temperature=277.15)
    # Source: Span and Wagner (1996) through CoolProp, within 0.05 % up to 3 bar absolute; their difference within 0.2 %
    full, empty = (PropsSI("D", "T", 277.15, "P", pressure, "CO2") for pressure in (101325.0 + 10.0 * PSI, 101325.0))
    expected = tank_shape(body)["headspace"] * (full - empty)
    assert vented_gas(body, 101325.0) == pytest.approx(expected, rel=2e-3)


def test_the_gas_that_is_let_out_is_the_same_in_both_languages(alike):
    rng = random.Random(SEED)
    tanks = [drawn_tank(rng) for _ in range(400)]
    let_out = alike("tanks/gas.js", vented_gas, [[body, rng.uniform(7e4, 1.05e5)] for body in tanks])
    pressures = alike("tanks/gas.js", last_pressure, [[body] for body in tanks])
    # by hand: nothing is let out of a tank without pressure, or with one that nobody knows
    assert [gas is None for gas in let_out] == [not pressure or pressure < 0.0 for pressure in pressures]


WAITS = [
    # by hand: a day has 24 hours of 3600 s, and half of one is rounded up
    (0.0, None), (59 * 60.0, None), (HOUR, [1, "hour"]), (1.5 * HOUR, [2, "hour"]), (2.5 * HOUR, [3, "hour"]),
    (-26 * HOUR, [26, "hour"]), (2 * DAY - 1.0, [48, "hour"]), (2 * DAY, [2, "day"]), (-2.4 * DAY, [2, "day"]),
    (2.5 * DAY, [3, "day"]),
]
RHYTHMS = [
    {"name": "later", "every": 259200.0, "since": "2026-03-08T12:00:00.000Z"},
    {"name": "never", "every": None, "since": "2026-03-08T12:00:00.000Z"},
    {"name": "late", "every": 604800.0, "since": "2026-03-01T12:00:00.000Z"},
    {"name": "as late", "every": 604800.0, "since": "2026-03-01T12:00:00.000Z"},
]
NOON_OF_10_MARCH = 1773144000000  # ms, by `date -u -d 2026-03-10T12:00:00 +%s`


def test_when_a_tank_is_due_is_the_same_in_both_languages(alike):
    # by hand: a day after noon of 10 March, two days before it
    ordered, = alike("tanks/due.js", by_due, [[RHYTHMS, NOON_OF_10_MARCH]])
    assert [(each["name"], each["wait"]) for each in ordered] == [
        ("late", -2 * DAY), ("as late", -2 * DAY), ("later", DAY),
    ]
    rng = random.Random(SEED)
    purges = demo("purge")

    def rhythm(entry):
        return {"every": rng.choice((None, rng.uniform(60.0, 1e7))), "since": end_of(entry)}

    alike("tanks/due.js", by_due, [
        [list(map(rhythm, rng.sample(purges, 9))), NOON_OF_10_MARCH + rng.randrange(-10**9, 10**9)] for _ in range(50)
    ])


def test_a_wait_is_said_in_days_or_hours_in_both_languages(alike):
    waits = [[wait] for wait, _ in WAITS]
    assert alike("tanks/due.js", in_days_or_hours, waits) == [said for _, said in WAITS]


def test_a_purge_ended_with_its_last_tap_in_both_languages(alike):
    purges = demo("purge")
    without = {**purges[0], "body": {**purges[0]["body"], "events": []}}
    ends = alike("tanks/due.js", end_of, [[without], *([entry] for entry in purges)])
    assert ends[0] == purges[0]["created"]
    assert ends[1:] == [entry["body"]["events"][-1]["at"] for entry in purges]


def purge(events=(), lost=None, **readings):
    result = {} if lost is None else {"volume_lost": {"value": lost, "uncertainty": None}}
    return {"events": [{"event": name} for name in events], "readings": readings, "result": result}


AFTER = [
    # by hand: 1 psi is 6894.757 Pa (NIST SP 811); what was not read stays; a tank is never less than empty
    (purge(["topped-up", "save"], 0.25, target_pressure="10 psi", pressure_after="8 psi"), (1.25, 10 * PSI)),
    (purge(["skip", "save"], 0.25, target_pressure="10 psi", pressure_after="8"), (1.25, 8 * PSI)),
    (purge(["topped-up", "undo", "skip"], 0.25, target_pressure="10 psi", pressure_after="8 psi"), (1.25, 8 * PSI)),
    (purge(["topped-up"], None, pressure_after="8 psi"), (1.5, 80000.0)),
    (purge([], 1.6, pressure_after=""), (0.0, 80000.0)),
]


def test_a_purge_leaves_a_tank_alike_in_both_languages(alike):
    tanks = alike("tanks/after.js", tank_after, [[tank(), body, "us"] for body, _ in AFTER])
    for left, (_, (beer, pressure)) in zip(tanks, AFTER, strict=True):
        assert left == tank(beer_volume=pytest.approx(beer), pressure=pytest.approx(pressure))
    bodies = [entry["body"] for entry in demo("purge")]
    alike("tanks/after.js", tank_after, [[tank(), body, system] for body in bodies for system in SYSTEMS])
    odd = [purge([], None, pressure_after=text) for text in ("8 kg", "1,234", "9999 psi", "-90 psi")]
    assert alike("tanks/after.js", tank_after, [[tank(), body, "us"] for body in odd]) == [None] * len(odd)


def test_the_median_is_that_of_the_standard_library_in_both_languages(alike):
    rng = random.Random(SEED)
    values = [[rng.uniform(-1e3, 1e3) for _ in range(rng.randint(1, 21))] for _ in range(200)]
    # Source: statistics.median; of no values there is none
    assert alike("usual/median.js", median, [[[]], *([each] for each in values)]) == [
        None, *map(statistics.median, values),
    ]


def test_what_is_usual_for_a_tank_is_the_same_in_both_languages(alike):
    bodies = [entry["body"] for entry in demo("purge")]
    rng = random.Random(SEED)
    some = [rng.sample(bodies, rng.randint(1, 20)) + [{"result": {}}] for _ in range(60)]
    found = alike("usual/purges.js", usual_result, [[each, "overrun"] for each in some])
    # Source: statistics.median over those that have the result
    assert found == [
        statistics.median([body["result"]["overrun"]["value"] for body in each if "overrun" in body["result"]])
        for each in some
    ]
    assert alike("usual/purges.js", usual_result, [[[], "overrun"], [some[0], "constructor"]]) == [None, None]


# JCGM 100:2008 (GUM), 6.2: value ± is the interval the measurand is expected in; one that reaches past zero does not
# tell the amount from none. By hand: of 4 ± 1, 9 ± 9, 2 ± 3, 8 ± 9 and 5 without a ± the first, second and last count.
def test_an_amount_whose_give_or_take_is_larger_than_itself_is_not_usual(alike):
    amounts = [(4.0, 1.0), (9.0, 9.0), (2.0, 3.0), (8.0, 9.0), (5.0, None)]
    bodies = [{"result": {"overrun": {"value": value, "uncertainty": doubt}}} for value, doubt in amounts]
    assert alike("usual/purges.js", usual_result, [[bodies, "overrun"], [bodies[2:4], "overrun"]]) == [5.0, None]


def happened(*events):
    """(line, True), (line, False), or (line, why it is skipped)."""
    return [{"line": line, "done": said is True, **({"reason": said} if isinstance(said, str) else {})}
            for line, said in events]


TICKS = happened(("cap", True), ("hose", True), ("2", "no second hose"), ("cap", False), ("1", True), ("hose", False),
                 ("hose", True), ("constructor", ""), ("2", True))


def test_where_the_lines_of_a_list_stand_is_the_same_in_both_languages(alike):
    # by hand: what is unticked counts no more, what is ticked again counts from then on, no reason is no skip
    stands, = alike("checklists/standing.js", standing_lines, [[TICKS]])
    assert [(event["line"], event["done"]) for event in stands] == [("2", True), ("1", True), ("hose", True)]
    left, = alike("checklists/standing.js", lines_left, [[["hose", "cap", "constructor", "1"], TICKS]])
    assert left == ["cap", "constructor"]
    rng = random.Random(SEED)
    names, said = ("a", "b", "c", "1", "2"), (True, False, "", "why")
    runs = [happened(*((rng.choice(names), rng.choice(said)) for _ in range(rng.randrange(12)))) for _ in range(300)]
    alike("checklists/standing.js", standing_lines, [[events] for events in runs])
    alike("checklists/standing.js", lines_left, [[list(names), events] for events in runs])


SIGNED = [
    # by hand: two who sign alike are one person
    (["initials", "second"], {}, ["initials", "second"]), (["initials"], {"initials": None}, ["initials"]),
    (["initials", "second"], {"initials": "AB", "second": "AB"}, ["second"]),
    (["initials", "second"], {"initials": "AB", "second": "CD"}, []), ([], {"initials": ""}, []),
]


def test_whose_initials_are_wanted_and_when_a_list_is_finished_is_the_same_in_both_languages(alike):
    calls = [[asked, body] for asked, body, _ in SIGNED]
    assert alike("checklists/standing.js", people_wanted, calls) == [wanted for *_, wanted in SIGNED]
    lines = ["hose", "1"]
    runs = [[lines, asked, {**body, "events": TICKS}] for asked, body, _ in SIGNED]
    assert alike("checklists/standing.js", is_finished, runs) == [not wanted for *_, wanted in SIGNED]
    assert alike("checklists/standing.js", is_finished, [[[*lines, "cap"], [], {"events": TICKS}]]) == [False]
