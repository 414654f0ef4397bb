"""What lies in the cone, what of it to keep, what the chamber counts, and what the drain gets."""

import math

import fluids
import pytest
import uncertainties
from scipy import stats
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.physics.yeast import plato_from_gravity

POUND = 0.45359237  # kg


def reckoned(name, system="us", **texts):
    outcome = reckon(calculators()[name], texts, system)
    assert not outcome.problems, outcome.problems
    return outcome


def results(name, **texts):
    return {key: result.value for key, result in reckoned(name, **texts).results.items() if result}


def refusals(name, **texts):
    return [(field, problem.code) for field, problem in reckon(calculators()[name], texts).problems]


def cone(depth=None, volume=None, angle=60.0, bore=0.0, **others):
    measured = {"depth": f"{depth!r} m"} if volume is None else {"volume": f"{volume!r} L"}
    return results("cone-contents", cone_angle=f"{angle}°", bore=f"{bore} mm", **measured, **others)


# Source: fluids.geometry.TANK, vertical with a conical bottom: diameter m, angle, cylinder m, level m.
@pytest.mark.parametrize(
    ("diameter", "angle", "cylinder", "level"),
    [
        (0.9, 60, 1.2, 0.5),
        (0.9, 60, 1.2, 1.5),
        (1.2, 60, 1.5, 1.03923),
        (1.2, 70, 1.5, 1.6),
        (1.5, 70, 2.0, 0.6),
        (1.8, 70, 2.5, 3.0),
        (1.8, 90, 2.2, 0.9),
        (2.1, 90, 2.5, 2.2),
        (2.4, 60, 3.0, 4.0),
        (2.4, 90, 3.0, 0.35),
    ],
)
def test_a_sharp_cone_and_its_cylinder_hold_what_fluids_says(diameter, angle, cylinder, level):
    height = diameter / 2.0 / math.tan(math.radians(angle / 2.0))
    tank = fluids.TANK(D=diameter, L=cylinder, horizontal=False, sideA="conical", sideA_a=height)
    found = cone(depth=level, angle=angle, tank_diameter=f"{diameter} m")
    assert found["volume"] == pytest.approx(tank.V_from_h(level), rel=1e-9)


# Source: fluids.geometry.TANK.V_from_h inverted by SciPy's brentq: diameter m, angle, volume L, level m.
@pytest.mark.parametrize(
    ("diameter", "angle", "litres", "level"),
    [
        (0.9, 60, 50.0, 0.5232239),
        (0.9, 60, 600.0, 1.4627556),
        (1.2, 60, 200.0, 0.8305661),
        (1.2, 70, 1000.0, 1.4554533),
        (1.8, 90, 821.434, 0.9228033),
        (2.4, 90, 100.0, 0.4570781),
    ],
)
def test_a_volume_stands_as_deep_as_fluids_says(diameter, angle, litres, level):
    found = cone(volume=litres, angle=angle, tank_diameter=f"{diameter} m")
    assert found["depth"] == pytest.approx(level, abs=2e-7)


# Source: a cone cut off at 100 mm is the sharp cone less its tip, both by fluids.geometry.V_vertical_conical.
@pytest.mark.parametrize("depth", [0.05, 0.3, 0.9])
def test_an_outlet_takes_the_tip_off_the_cone(depth):
    half = math.radians(30.0)
    tip = 0.05 / math.tan(half)
    whole = tip + depth
    sharp = fluids.geometry.V_vertical_conical(D=2.0 * whole * math.tan(half), a=whole, h=whole)
    cut = fluids.geometry.V_vertical_conical(D=0.1, a=tip, h=tip)
    assert cone(depth=depth, bore=100.0)["volume"] == pytest.approx(sharp - cut, rel=1e-9)


# Source: the same frustum read backwards; the depth given comes back.
@pytest.mark.parametrize("depth", [0.1, 0.2, 1.7])
@pytest.mark.parametrize("bore", [0.0, 34.8, 300.0])
def test_depth_to_volume_and_back_is_the_same_depth(depth, bore):
    volume = cone(depth=depth, bore=bore)["volume"] * 1000.0
    assert cone(volume=volume, bore=bore)["depth"] == pytest.approx(depth, rel=1e-9)


# Source: solid geometry: in a sharp cone seven eighths of the volume lie in the upper half of the depth.
def test_to_lay_an_arm_at_half_depth_free_seven_eighths_must_go():
    found = cone(depth=0.8, arm_height="0.4 m")
    assert found["to_clear_arm"] == pytest.approx(7.0 / 8.0 * found["volume"], rel=1e-12)


def test_an_arm_above_the_solids_has_nothing_to_clear():
    outcome = reckoned("cone-contents", cone_angle="60°", depth="0.4 m", arm_height="0.5 m")
    assert outcome.results["to_clear_arm"].value == 0.0
    assert "arm-above-solids" in outcome.remarks


def test_the_cone_wants_one_measure_and_a_tank_wider_than_its_outlet():
    assert refusals("cone-contents", cone_angle="60°") == [("depth", "nothing-measured")]
    assert refusals("cone-contents", cone_angle="60°", depth="1 m", volume="5 L") == [
        ("volume", "both-measured")
    ]
    narrow = {"cone_angle": "60°", "depth": "1 m", "bore": "150 mm", "tank_diameter": "15 cm"}
    assert refusals("cone-contents", **narrow) == [("tank_diameter", "narrower-than-outlet")]


# Source: CRC Handbook of Chemistry and Physics, 102nd ed., density of sucrose solutions at 20 °C over
# water's 0.9982: degrees Plato are percent of sucrose by mass. The table has four decimals, so that ±
# 0.0001 SG or 0.025 °P.
@pytest.mark.parametrize(
    ("plato", "density"), [(5, 1.0178), (10, 1.0381), (12, 1.0465), (15, 1.0592), (20, 1.0810)]
)
def test_degrees_plato_are_percent_of_sugar(plato, density):
    assert plato_from_gravity(density / 0.9982) == pytest.approx(plato, abs=0.025)


# Source: gravity table of the trade, from memory: 10 °P is 1.0400, 12 °P 1.0484, 15 °P 1.0611, 20 °P 1.0830.
@pytest.mark.parametrize(("plato", "gravity"), [(10, 1.0400), (12, 1.0484), (15, 1.0611), (20, 1.0830)])
def test_the_hydrometer_and_the_saccharometer_agree(plato, gravity):
    assert plato_from_gravity(gravity) == pytest.approx(plato, abs=0.03)


# Source: rate x volume x °P over cells a gram, worked by hand apart from this project: rate in million,
# volume in L, °P, billion cells a gram, viability, slurry kg.
@pytest.mark.parametrize(
    ("rate", "litres", "plato", "billions", "viability", "kilograms"),
    [
        (0.75, 20, 12, 1.0, 100, 0.18),
        (0.75, 117.348, 12, 1.5, 100, 0.704087),
        (1.0, 1173.48, 12, 1.5, 95, 9.88192),
        (1.5, 821.434, 14, 1.2, 90, 15.9723),
        (1.0, 1000, 10, 1.0, 100, 10.0),
        (1.5, 3520.43, 16, 2.0, 85, 49.7002),
    ],
)
def test_the_slurry_to_keep_is_that_of_the_hand_worked_batch(
    rate, litres, plato, billions, viability, kilograms
):
    found = results(
        "harvest-mass",
        batch_volume=f"{litres} L",
        plato=f"{plato} °P",
        cells_by_mass=f"{billions} billion/g",
        viability=f"{viability} %",
        pitch_rate=f"{rate} million/mL/°P",
    )
    assert found["slurry_mass"] == pytest.approx(kilograms, rel=2e-5)
    assert found["cells"] == pytest.approx(kilograms * 1000.0 * billions * 1e9 * viability / 100.0, rel=2e-5)


# Source: by hand: 1 million x 1,000,000 mL x 10 °P are 10 million million cells; at 2 thousand million a mL
# and half of them live that is 10 L, and 10.5 kg at 1.05 kg/L.
def test_a_count_a_millilitre_gives_litres_and_kilograms():
    found = results(
        "harvest-mass",
        batch_volume="1000 L",
        plato="10 °P",
        slurry_cells="2 billion/mL",
        viability="50 %",
        cone_solids="40 L",
    )
    assert found["cells"] == pytest.approx(1e13, rel=1e-12)
    assert found["slurry_volume"] == pytest.approx(0.010, rel=1e-12)
    assert found["slurry_mass"] == pytest.approx(10.5, rel=1e-12)
    assert found["share_of_cone"] == pytest.approx(0.25, rel=1e-12)


# Source: CRC Handbook: 12 % sucrose has a density of 1.0465 g/mL, which is 1.0484 against water.
def test_a_batch_known_by_gravity_wants_the_same_yeast_as_one_known_by_plato():
    given = {"batch_volume": "15 bbl", "slurry_cells": "1.2 billion/mL", "viability": "95 %"}
    by_plato, by_gravity = (
        results("harvest-mass", **given, **one)
        for one in (
            {"plato": "12"},
            {"specific_gravity": "1.0484"},
        )
    )
    assert by_gravity["slurry_mass"] == pytest.approx(by_plato["slurry_mass"], rel=0.002)


@pytest.mark.parametrize(("cone_solids", "remark"), [("40 L", "enough"), ("9 L", "not-enough")])
def test_the_hand_is_told_whether_the_cone_holds_it(cone_solids, remark):
    given = {"batch_volume": "1000 L", "plato": "10 °P", "slurry_cells": "2 billion/mL", "viability": "50 %"}
    assert remark in reckoned("harvest-mass", cone_solids=cone_solids, **given).remarks


def test_the_batch_has_one_gravity_and_the_slurry_one_count():
    given = {"batch_volume": "1000 L", "viability": "95 %"}
    assert refusals("harvest-mass", **given) == [("plato", "no-gravity"), ("slurry_cells", "no-count")]
    doubled = {
        **given,
        "plato": "12",
        "specific_gravity": "1.048",
        "slurry_cells": "1 billion/mL",
        "cells_by_mass": "1 billion/g",
    }
    assert refusals("harvest-mass", **doubled) == [
        ("specific_gravity", "two-gravities"),
        ("cells_by_mass", "two-counts"),
    ]


# Source: geometry of the improved Neubauer chamber: 1 mm x 1 mm x 0.1 mm is 0.1 µL, so that cells in the
# whole middle field times 10,000 are cells a mL; its 25 squares share it equally.
@pytest.mark.parametrize(("squares", "square_volume"), [("25", "4 nL"), ("1", "100 nL"), ("1", "0.1 µL")])
def test_a_count_of_the_whole_middle_field_is_times_ten_thousand(squares, square_volume):
    found = results(
        "cell-count",
        live="190",
        dead="10",
        squares=squares,
        dilution="100",
        square_volume=square_volume,
    )
    assert found["cells"] / 1e6 == pytest.approx(200 * 10_000 * 100, rel=1e-12)
    assert found["viability"] == pytest.approx(0.95, rel=1e-12)


# Source: SciPy, the standard deviation of the Poisson distribution.
@pytest.mark.parametrize(("live", "dead"), [(285, 15), (60, 40), (9, 3), (2000, 0)])
def test_the_doubt_of_the_cells_is_that_of_a_poisson_count(live, dead):
    cells = reckoned("cell-count", live=str(live), dead=str(dead), squares="25", dilution="100").results[
        "cells"
    ]
    if dead:
        relative = stats.poisson(live + dead).std() / (live + dead)
        assert cells.uncertainty / cells.value == pytest.approx(relative, rel=1e-6)


# Source: SciPy, the standard deviation of the binomial distribution over the number counted.
@pytest.mark.parametrize(("live", "dead"), [(285, 15), (60, 40), (190, 10), (1000, 1)])
def test_the_doubt_of_the_viability_is_that_of_a_binomial_share(live, dead):
    viability = reckoned("cell-count", live=str(live), dead=str(dead), squares="25", dilution="100").results[
        "viability"
    ]
    count = live + dead
    truth = stats.binom(count, live / count).std() / count
    assert viability.uncertainty == pytest.approx(truth, rel=0.01)


# Source: Poisson draws by SciPy, seeded: viability scatters between repeated counts as the ± says.
def test_repeated_counts_scatter_as_the_doubt_says():
    live = stats.poisson(270).rvs(20_000, random_state=1)
    dead = stats.poisson(30).rvs(20_000, random_state=2)
    scatter = (live / (live + dead)).std()
    said = reckoned("cell-count", live="270", dead="30", squares="25", dilution="100").results["viability"]
    assert said.uncertainty == pytest.approx(scatter, rel=0.03)


# Source: the rule of three: with none seen among n, up to 3 / n may still be there (95 %): some doubt must
# stay.
def test_no_dead_cell_seen_leaves_some_doubt():
    outcome = reckoned("cell-count", live="300", dead="0", squares="25", dilution="100")
    assert 0.0 < outcome.results["viability"].uncertainty < 3.0 / 300.0
    assert "few-dead" in outcome.remarks


def test_a_doubt_that_is_typed_takes_the_place_of_the_square_root():
    exact = {"live": "285 ± 0", "dead": "15 ± 0", "squares": "25", "dilution": "100"}
    assert reckoned("cell-count", **exact).results["cells"].uncertainty is None


def test_an_empty_chamber_is_refused():
    assert refusals("cell-count", live="0", dead="0", squares="25", dilution="1") == [
        ("live", "nothing-counted")
    ]


def drain(**texts):
    return results("drain-load", **texts)


# Source: mass balance by hand: of 1,000 L with 100 g/L solids and 200 g/L demand a fifth, 200 L, goes down:
# 20 kg and 40 kg; in 9,800 L other water and these 200 L that is 2,000 and 4,000 mg/L; 800 L of 1.05 kg/L
# are 840 kg wet, and their 80 kg of dry solids at a quarter dry matter are 320 kg.
def test_a_purge_collected_for_four_fifths_leaves_one_fifth_to_the_drain():
    found = drain(volume="1000 L", captured_share="80 %", day_flow="9800 L")
    assert found["suspended_solids"] == pytest.approx(20.0)
    assert found["demand"] == pytest.approx(40.0)
    assert found["solids_concentration"] == pytest.approx(2.0)
    assert found["demand_concentration"] == pytest.approx(4.0)
    assert found["wet_mass"] == pytest.approx(840.0)
    assert found["dried_mass"] == pytest.approx(320.0)


# Source: by hand: 40 kg of demand, of which 500 mg/L in 10 m3, 5 kg, are free: 35 kg at $2 are $70. With
# nothing collected 200 kg, of which 500 mg/L in 10.8 m3, 5.4 kg, are free: $389.20, so that $319.20 are
# saved. Hauling 840 kg at $50 a tonne costs $42, and 320 kg $16.
def test_the_surcharge_counts_what_is_above_the_limit():
    found = drain(
        volume="1000 L",
        captured_share="80 %",
        day_flow="9800 L",
        demand_limit="500 mg/L",
        demand_charge="2 $/kg",
        haulage_charge="50 $/t",
    )
    assert found["surcharge"] == pytest.approx(70.0)
    assert found["surcharge_saved"] == pytest.approx(319.2)
    assert found["haulage"] == pytest.approx(42.0)
    assert found["haulage_dried"] == pytest.approx(16.0)


# Source: by hand: below the limit nothing is charged; without a limit every pound is: 100 L x 100 g/L = 10
# kg = 22.05 lb.
def test_without_a_limit_every_pound_is_charged_and_below_it_none():
    assert drain(volume="100 L", solids_charge="1 $/lb")["surcharge"] == pytest.approx(10.0 / POUND)
    free = drain(volume="100 L", day_flow="100000 L", solids_limit="1 g/L", solids_charge="1 $/lb")
    assert free["surcharge"] == 0.0


# Source: mass balance: what is collected and what goes down make up what was purged.
@pytest.mark.parametrize("captured", [0, 35, 100])
def test_no_solids_are_lost_between_the_drain_and_the_container(captured):
    found = drain(volume="500 L", solids_content="120 g/L", captured_share=f"{captured} %", dryness="30 %")
    assert found["suspended_solids"] + 0.3 * found["dried_mass"] == pytest.approx(60.0)


# Source: stoichiometry: ethanol + 3 O2 takes 96.0 / 46.07 g/g, maltose + 12 O2 384.0 / 342.3 g/g. Beer of 5
# % ABV (39.5 g/L) with 40 g/L of extract; dry yeast as C5H7NO2 + 5 O2, 160.0 / 113.1 g/g, 120 g/L of it in
# that beer.
def test_beer_and_thick_yeast_are_within_the_usual_oxygen_demand():
    beer = 39.5 * 96.0 / 46.07 + 40.0 * 384.0 / 342.3
    yeast = 120.0 * 160.0 / 113.1 + 0.6 * beer
    for demand in (beer, yeast):
        assert (
            "unusual-demand"
            not in reckoned("drain-load", volume="1 hL", oxygen_demand=f"{demand:.4} g/L").remarks
        )
    assert "unusual-demand" in reckoned("drain-load", volume="1 hL", oxygen_demand=f"{yeast:.4} mg/L").remarks


def test_a_limit_wants_the_days_water_and_pressing_does_not_make_wetter():
    assert refusals("drain-load", volume="1 hL", solids_limit="300 mg/L") == [
        ("day_flow", "limit-needs-flow")
    ]
    assert refusals("drain-load", volume="1 hL", dryness="5 %") == [("dryness", "wetter-than-the-purge")]


# Source: the uncertainties package, first-order propagation of 1.0 ± 0.1 hL at 100 ± 20 g/L.
def test_the_drain_carries_its_doubt_by_the_gum():
    typed = {"volume": "1.0 ± 0.1 hL", "solids_content": "100 ± 20 g/L"}
    result = reckoned("drain-load", **typed).results["suspended_solids"]
    truth = uncertainties.ufloat(100.0, 10.0) * uncertainties.ufloat(0.1, 0.02)
    assert (result.value, result.uncertainty) == (pytest.approx(10.0), pytest.approx(truth.std_dev, rel=1e-4))
