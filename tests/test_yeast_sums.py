"""What of the yeast to keep, and what the chamber counts."""

import pytest
from scipy import stats
from sums import reckoned, refusals, results
from tankfoot.physics.yeast import plato_from_gravity


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
