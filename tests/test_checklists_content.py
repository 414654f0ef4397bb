"""What the lists and cards say, line by line: the order of acts, the gates, the words, the sources."""

import re
from pathlib import Path

import pytest
from tankfoot.calculators import calculators
from tankfoot.checklists import cards, checklists, regions
from tankfoot.checklists.claims import with_tables
from tankfoot.checklists.shown import PLACE, shown, units_of
from tankfoot.purge.machine import LATEST, tables

SAFETY_PAGE = Path(__file__).parent.parent / "docs" / "safety.md"
EVERY = [(made.id, line) for made in checklists().values() for line in made.lines]
LINES = [pytest.param(line, id=f"{list_id}-{line.id}") for list_id, line in EVERY]
SIGNALS = [line.signal for _, line in EVERY]
TEXTS = {made.id: repr(made) for made in (*checklists().values(), *cards().values())}


def line_of(list_id, line_id):
    return next(line for line in checklists()[list_id].lines if line.id == line_id)


def places(list_id, line_ids):
    """How far down its list each line stands."""
    found = [line.id for line in checklists()[list_id].lines]
    return [found.index(line_id) for line_id in line_ids]


# The wanted lists and cards: the scope set for the safety content.
def test_every_wanted_list_and_card_is_there():
    assert set(checklists()) >= {
        "before-opening-the-bottom-port", "before-breaking-a-clamp", "gas-hook-up", "starting-a-purge",
        "after-the-purge", "entering-a-cellar-with-co2", "peracetic-acid", "isopropyl-alcohol", "hops",
        "yeast-harvest-then-purge", "solids-and-the-drain", "cold-exposure", "confined-space",
    }
    assert set(cards()) >= {
        "uncontrolled-discharge", "co2-alarm-or-person-down", "chemical-splash", "vacuum", "cold-soak",
        "hose-burst",
    }


# English imperatives are the bare verb; the trade's own verbs of the work. Common practice, no source.
IMPERATIVES = set(re.findall(r"\w+", """
    Aim Bar Blow Cap Clear Close Compare Dip Draw Empty Feel Fill Find Fit Hang Join Keep Label Lay Let Lock Look
    Loosen Make Measure Move Name Open Point Pour Pull Push Put Read Rinse Run Sanitize Say Set Shut Spray
    Start Stop Switch Take Talk Tell Top Trace Try Turn Wait Walk Wash Watch Wipe Work Write
    Change
"""))


@pytest.mark.parametrize("line", LINES)
def test_an_act_is_short_and_an_order(line):
    assert len(line.act) <= 60
    assert line.act.split()[0] in IMPERATIVES
    assert not line.act.endswith(".")


# WHO and Degani: stop at nine between pauses; the condition first, the completion call last.
@pytest.mark.parametrize("name", checklists())
def test_a_list_says_when_to_use_it_pauses_and_ends_with_a_call(name):
    made = checklists()[name]
    assert made.condition.startswith("Use this when ")
    assert made.completion.endswith(" complete")
    assert all(1 <= len(part.lines) <= 9 and part.pause for part in made.parts)
    assert any(line.gate for line in made.lines)


def test_every_completion_call_is_its_own():
    calls = [made.completion for made in checklists().values()]
    assert len(set(calls)) == len(calls)


# ANSI Z535.6 and ISO 3864-2: DANGER is kept for the most extreme cases.
def test_danger_is_rare():
    assert 0 < SIGNALS.count("DANGER") < SIGNALS.count("WARNING") / 5


# The words of the trade in this project: each place has one name.
@pytest.mark.parametrize("name", TEXTS)
def test_the_words_of_the_trade_are_kept(name):
    for other in ("butterfly", "dump valve", "tri-clamp", "racking", "color", "sanitiser", "sludge"):
        assert other not in TEXTS[name].lower()


# A tool that cannot see the tank cannot know that it is safe: the project's own rule.
@pytest.mark.parametrize("name", TEXTS)
def test_nothing_claims_to_be_safe(name):
    assert not re.search(r"\b(safe|safely|guaranteed|certified|approved)\b", TEXTS[name], re.IGNORECASE)


# Stored energy is let out before a joint is opened: 29 CFR 1910.147(d)(5), stored energy (from memory).
@pytest.mark.parametrize(
    ("name", "order"),
    [
        ("before-breaking-a-clamp", [
            "isolation-valve-found", "isolation-valve-shut", "clamp-pointed-at", "cap-within-reach",
            "trapped-pressure-out", "no-plug", "stays-quiet", "clamp-under-hand", "still-shut",
            "loosen-first",
        ]),
        ("after-the-purge", ["isolation-valve-shut", "stack-let-down", "clamp-list-made", "stack-off"]),
        ("after-the-purge", ["stack-off", "port-rinsed", "port-sanitised", "capped", "headspace-topped-up"]),
        ("after-the-purge", ["cylinder-shut", "arm-shut", "hose-let-down", "disconnected", "arm-capped"]),
        ("starting-a-purge", ["gas-makes-up", "flow-valve-shut", "isolation-valve-open", "first-flow"]),
        ("gas-hook-up", [
            "plate-read", "regulator-backed-off", "clean-arm-found", "cylinder-opened", "pressure-set",
            "air-popped", "connected", "arm-opened",
        ]),
        ("yeast-harvest-then-purge", [
            "vessel-vents", "isolation-valve-shut", "hose-let-down", "flow-valve-shut", "vessel-joined",
            "both-shut", "vessel-let-down",
        ]),
        ("peracetic-acid", ["eyewash-run", "protection-on", "water-first", "poured-in", "drum-closed"]),
    ],
)
def test_the_acts_stand_in_the_order_that_hurts_nobody(name, order):
    assert places(name, order) == sorted(places(name, order))


CLAMP_GATES = [
    "isolation-valve-shut", "clamp-pointed-at", "eyes-and-hands", "outlet-aimed", "trapped-pressure-out", "no-plug",
    "stays-quiet", "cap-within-reach", "clamp-under-hand", "still-shut", "loosen-first",
]


@pytest.mark.parametrize("line_id", CLAMP_GATES)
def test_no_clamp_is_broken_past_a_gate(line_id):
    assert line_of("before-breaking-a-clamp", line_id).gate


# The tank-side clamp has no valve above it: a fact of the stack. Common practice, no source.
def test_the_clamp_list_names_the_outer_clamp_and_forbids_the_other():
    line = line_of("before-breaking-a-clamp", "clamp-under-hand")
    assert line.signal == "DANGER"
    assert line.value == "Outer clamp: isolation valve is above my hand"
    assert "Never open the tank-side clamp" in line_of("before-breaking-a-clamp", "clamp-pointed-at").avoid


# NIOSH 86-110: more than 60 % of deaths in confined spaces are would-be rescuers.
def test_nobody_is_ever_sent_in_after_someone():
    gas = cards()["co2-alarm-or-person-down"]
    assert gas.acts[0].act == "Get out and stay out" and "Do not follow them in" in gas.acts[0].detail
    assert gas.acts[1].call
    assert "never allows one" in checklists()["confined-space"].parts[0].pause


# A hose that is held, the own monitor and goggles are conditions of the work: the project's own rule.
@pytest.mark.parametrize(("list_id", "line_id"), [
    (list_id, line.id) for list_id, line in EVERY
    if re.search(r"\b(tied|own CO2 monitor|own monitor)\b|^Clamped|[Gg]oggles", f"{line.act} {line.value}")
    or line.id in ("eyes-and-hands", "protection-on")
])
def test_a_held_hose_the_own_monitor_and_goggles_are_gates(list_id, line_id):
    line = line_of(list_id, line_id)
    assert line.gate and line.source


@pytest.mark.parametrize(("list_id", "line"), [(list_id, line) for list_id, line in EVERY if "CO2 monitor" in line.act])
def test_a_monitor_that_is_read_is_ones_own_and_cannot_be_skipped(list_id, line):
    assert "your own CO2 monitor" in line.act and line.gate
    assert "{co2_limits}" in line.source or line.id == "own-monitor"


# Every line that the guided purge shows is one of a list, with its source: purge/tables/2.toml.
def test_what_the_ready_check_asks_cannot_be_skipped_in_the_list_either():
    asked = tables()[LATEST]["ready"]
    assert asked.skip is None and "before-opening-the-bottom-port.co2-reading" in asked.lines
    lines = [line_of(*name.split(".")) for step in tables()[LATEST].values() for name in step.lines]
    not_gates = {line.id for line in lines if not line.gate}
    assert not_gates == {"cap-within-reach", "others-clear"}


# A handle that does not tell is no check: the project's own rule.
@pytest.mark.parametrize("name", [
    "before-opening-the-bottom-port", "before-breaking-a-clamp", "after-the-purge", "yeast-harvest-then-purge", "hops",
])
def test_an_unclear_handle_stops_the_check(name):
    shut = [line for line in checklists()[name].lines if "handle across the pipe" in line.value]
    assert [line for line in shut if re.search(r"[Uu]nclear: stop", repr(line))]


# A stack that is shut at both ends fills through a valve that leaks: common practice, no source.
def test_a_stack_at_rest_is_open_below_or_somebody_stays():
    line = line_of("after-the-purge", "left-to-rest")
    assert line.gate and "someone stays" in line.value and "tied hose" in line.act


# The tank's limit is its relief valve's setting; the beer's weight comes on top: p = p0 + rho g h, hydrostatics.
def test_what_hangs_below_is_rated_for_the_relief_valve_and_the_beer():
    parts = line_of("before-opening-the-bottom-port", "stack-rated")
    for line in (parts, line_of("yeast-harvest-then-purge", "vessel-rated")):
        assert line.gate and "relief valve's setting plus the beer's weight" in line.value
        assert "{9.9 kPa}" in line.why and "{1 m}" in line.why
    assert pytest.approx(1010 * 9.81 / 1000, abs=0.05) == 9.9


# Isopropyl alcohol burns, and heats with a strong oxidizer: NIOSH Pocket Guide.
def test_alcohol_keeps_away_from_flame_hot_parts_and_peracetic_acid_in_both_lists():
    alcohol, acid = TEXTS["isopropyl-alcohol"], TEXTS["peracetic-acid"]
    assert "No hot part near it" in alcohol and "flame" in alcohol
    assert "Never together with peracetic acid" in alcohol and "Never together with alcohol" in acid


def test_the_discharge_card_vents_first_away_from_the_jet_and_gives_way_to_the_co2_card():
    last = cards()["uncontrolled-discharge"].acts[4]
    assert last.act == "Vent the top, then gas off"
    wanted = ("away from the jet", "monitor quiet", "Out of reach: leave both, get out", "CO2 alarm: that card wins")
    for said in wanted:
        assert said in last.detail


def test_a_folded_tank_is_out_of_use():
    assert "out of use" in TEXTS["vacuum"]
    for name in ("before-opening-the-bottom-port", "gas-hook-up"):
        line = line_of(name, "tank-whole")
        assert line.gate and "out of use" in line.value


# Source of the figures: the published limits that regions.toml names; national emergency numbers stand beside them.
@pytest.mark.parametrize(("region", "figures", "others"), [
    ("United States and Canada", ("5,000", "30,000", "40,000", "ANSI/ISEA Z358.1"), ("15,000", "EN 15154")),
    ("United Kingdom", ("5,000", "15,000", "EH40", "EN 15154"), ("30,000", "ANSI")),
    ("European Union", ("5,000", "2006/15/EC", "EN 15154"), ("30,000", "15,000", "ANSI")),
    ("Ireland", ("5,000", "2006/15/EC", "EN 15154"), ("30,000", "15,000", "ANSI")),
])
def test_a_region_has_its_limits_and_no_others(region, figures, others):
    told = shown("{co2_limits} {eyewash}", region, units_of("us"))
    assert all(figure in told for figure in figures) and not any(other in told for other in others)


@pytest.mark.parametrize("region", ["", "Anywhere else", "Japan", "no such place"])
def test_where_nothing_is_known_of_a_region_all_limits_are_shown_by_name(region):
    told = shown("{co2_limits}", region, units_of("us"))
    assert all(name in told for name in ("US: NIOSH", "UK: HSE", "EU: Directive"))


# 1 psi = 6.894757 kPa, 0 °C = 32 °F, 1 in = 25.4 mm: NIST SP 811, appendix B.
@pytest.mark.parametrize(("place", "us", "metric"), [
    ("{9.9 kPa}", "1.4 psi", "0.099 bar"), ("{53 °F}", "53 °F", "12 °C"), ("{1 m}", "3.3 ft", "1 m"),
    ("{57 bar}", "827 psi", "57 bar"), ("{400 mm}", "16 in", "400 mm"),
])
def test_a_quantity_in_a_list_is_shown_in_the_units_of_the_phone(place, us, metric):
    assert shown(place, "", units_of("us")) == us
    assert shown(place, "", units_of("metric")) == metric


# Typed beside a place that follows the setting, a figure with a unit would not.
UNIT = re.compile(r"[0-9] ?(psi|bar|kPa|°C|°F|gal|L|hL|bbl|mm|cm|in|ft|kN|lbf)\b")


@pytest.mark.parametrize("name", TEXTS)
def test_no_figure_with_a_unit_stands_beside_the_setting(name):
    assert not UNIT.search(PLACE.sub("", TEXTS[name]))


FIRST_ACTS = {
    "co2-alarm-or-person-down": "Get out",
    "uncontrolled-discharge": "Get out of the jet",
    "chemical-splash": "Water now",
    "vacuum": "Stop the draw",
    "hose-burst": "Get out of its swing",
    "cold-soak": "Get into the warm",
}


@pytest.mark.parametrize(("name", "first"), FIRST_ACTS.items())
def test_a_card_puts_first_what_comes_first(name, first):
    assert cards()[name].acts[0].act.startswith(first)


@pytest.mark.parametrize("made", cards().values(), ids=cards())
def test_a_card_can_be_read_at_arms_length(made):
    assert len(made.acts) <= 5 and all(len(act.act.split()) <= 6 for act in made.acts)
    assert sum(act.call for act in made.acts) == 1
    assert made.defer == "Your site's emergency procedure and the emergency services come first."
    assert made.why and made.source and made.never and made.then


# ANSI/ISEA Z358.1: flushing for at least 15 minutes.
def test_a_splash_is_rinsed_for_fifteen_minutes():
    assert any("15 minutes" in act.act for act in cards()["chemical-splash"].acts)


# No one caps a jet by hand: the push of 10 psi on a 1.5 in tube is 66 N and more (reference table, F = p A).
def test_a_jet_is_never_held_by_hand():
    made = cards()["uncontrolled-discharge"]
    assert made.never[0].line == "Do not hold or cap a jet with your hands."
    assert "below the shut isolation valve, or once the jet has died" in made.then[0].line


# 911, 112, 999, 000, 111: national emergency numbers, from memory; ITU-T E.161.1: 112 or 911, from memory.
@pytest.mark.parametrize(
    ("region", "number"),
    [("United States and Canada", "911"), ("European Union", "112"), ("United Kingdom", "999"),
     ("Australia", "000"), ("New Zealand", "111"), ("Anywhere else", "112")],
)
def test_a_region_has_its_emergency_number_and_says_where_it_is_from(region, number):
    assert regions()[region].number == number
    assert "from memory" in regions()[region].source.lower()


def test_a_number_shown_is_named_once_a_list():
    assert all(len(set(made.numbers)) == len(made.numbers) for made in checklists().values())


@pytest.mark.parametrize("made", checklists().values(), ids=checklists())
def test_every_number_that_a_list_names_is_a_result_or_input_of_a_calculator(made):
    for id, (results, inputs) in made.sums.items():
        assert set(results) <= set(calculators()[id].results) and set(inputs) <= set(calculators()[id].fields)
    assert {name.partition(".")[0] for name in made.inputs} <= set(made.sums)


def test_the_page_on_safety_shows_every_grave_claim_as_it_stands():
    page = SAFETY_PAGE.read_text(encoding="utf-8")
    assert with_tables(page) == page, "python -m tankfoot.checklists.claims docs/safety.md"


def test_the_tables_of_the_page_on_safety_are_written_anew_and_nothing_else_is():
    page = SAFETY_PAGE.read_text(encoding="utf-8")
    stale = page.replace("| DANGER | before-", "| DANGER | of old: ").replace("| vacuum | ", "| vacuum | of old: ")
    assert stale.count("of old") > 2
    assert with_tables(stale) == page


# 29 CFR 1910.146(b): short of oxygen below 19.5 %. Fresh air: 20.9 %. NIOSH: 4 % CO2 is immediately dangerous.
def test_deadly_co2_leaves_more_oxygen_than_a_meter_calls_low():
    left = 20.9 * (1 - 0.04)
    assert left > 19.5
    assert f"leaves {left:.1f} % oxygen" in cards()["co2-alarm-or-person-down"].never[2].source


# Carbonate takes the gas up: 2 NaOH + CO2 -> Na2CO3 + H2O, textbook chemistry.
def test_no_gas_is_put_on_a_tank_with_caustic_in_it():
    assert "caustic inside" in cards()["vacuum"].acts[2].detail
