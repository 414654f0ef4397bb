"""The tank calculator, against a reference library and sums done by hand."""

import math

import pytest
from fluids.geometry import TANK
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon

TANK_15 = {"diameter": "150 cm", "straight_height": "200 cm", "cone_angle": "70", "beer_volume": "30 hL"}


def worked(**texts):
    outcome = reckon(calculators()["tank"], texts, "metric")
    assert not outcome.problems, outcome.problems
    return {name: result and result.value for name, result in outcome.results.items()}


def refused(**texts):
    problems = reckon(calculators()["tank"], texts, "metric").problems
    return [(field, problem.code) for field, problem in problems]


def without(*names):
    return {name: text for name, text in TANK_15.items() if name not in names}


def test_the_headspace_is_what_the_beer_leaves_of_the_reference_tank():
    cone = 0.75 / math.tan(math.radians(35.0))
    tank = TANK(
        D=1.5, L=2.0, horizontal=False, sideA="conical", sideA_a=cone, sideB="spherical", sideB_a=0.25,
    )
    results = worked(**TANK_15, head_depth="25 cm", arm_height="80 cm")
    # fluids.geometry.TANK.V_total
    assert results["total_volume"] == pytest.approx(tank.V_total, rel=1e-9)
    # fluids.geometry.TANK.V_total less 30 hL
    assert results["headspace"] == pytest.approx(tank.V_total - 3.0, rel=1e-9)
    # fluids.geometry.TANK.V_from_h
    assert tank.V_from_h(results["beer_level"]) == pytest.approx(3.0, rel=1e-9)
    # fluids.geometry.TANK.V_from_h at the arm
    assert results["arm_volume"] == pytest.approx(tank.V_from_h(0.8), rel=1e-9)


def test_ten_us_barrels_in_a_70_degree_tank_stand_at_their_worked_level():
    results = worked(**{**TANK_15, "beer_volume": "10 bbl"})
    # scipy.optimize.brentq on fluids.geometry.TANK.V_from_h, D 1.5 m, 70 degrees: 1.3781265 m
    assert results["beer_level"] == pytest.approx(1.3781265, abs=1e-7)


def test_a_tape_round_the_tank_gives_its_diameter():
    results = worked(circumference="471.2389 cm", **without("diameter"))
    # circumference = pi x diameter: pi x 150 cm = 471.2389 cm
    assert results["diameter"] == pytest.approx(1.5, rel=1e-7)


def test_the_total_volume_gives_back_the_straight_side():
    total = worked(**TANK_15)["total_volume"]
    results = worked(total_volume=f"{total * 1000.0!r} L", **without("straight_height"))
    # the straight side that was given: 200 cm
    assert results["straight_height"] == pytest.approx(2.0, rel=1e-12)


def test_a_cone_as_high_as_half_the_width_opens_90_degrees():
    results = worked(cone_height="75 cm", **without("cone_angle"))
    # right isosceles triangle
    assert math.degrees(results["cone_angle"]) == pytest.approx(90.0, rel=1e-12)


def test_a_makers_head_volume_goes_before_its_depth():
    flat, domed = worked(**TANK_15), worked(**TANK_15, head_volume="100 L", head_depth="25 cm")
    # the headspace grows by the head's volume, 100 L
    assert domed["headspace"] - flat["headspace"] == pytest.approx(0.1, rel=1e-9)


def test_an_empty_tank_is_all_headspace():
    results = worked(**{**TANK_15, "beer_volume": "0 hL"})
    # nothing in it: the whole tank
    assert results["headspace"] == results["total_volume"]
    # nothing in it: no level
    assert results["beer_level"] == 0.0


IMPOSSIBLE = (
    (without("diameter"), ("diameter", "no-width")),
    ({**TANK_15, "circumference": "4.7 m"}, ("circumference", "two-widths")),
    (without("straight_height"), ("straight_height", "no-height")),
    ({**TANK_15, "total_volume": "40 hL"}, ("total_volume", "two-heights")),
    (without("cone_angle"), ("cone_angle", "no-cone")),
    ({**TANK_15, "cone_height": "1 m"}, ("cone_height", "two-cones")),
    (without("beer_volume"), ("beer_volume", "no-beer")),
    ({**TANK_15, "beer_level": "1 m"}, ("beer_level", "two-beers")),
    # the cone alone holds pi x 1.5^2 / 12 x 1.0711 m = 631 L
    ({**without("straight_height"), "total_volume": "600 L"}, ("total_volume", "cone-takes-all")),
    # the straight side ends 2 + 1.0711 m above the port
    ({**TANK_15, "arm_height": "308 cm"}, ("arm_height", "arm-outside")),
    # 631 L + pi x 1.5^2 / 4 x 2 m = 4165 L
    ({**TANK_15, "beer_volume": "4170 L"}, ("beer_volume", "above-straight-side")),
    ({**without("beer_volume"), "beer_level": "308 cm"}, ("beer_level", "above-straight-side")),
    ({**TANK_15, "head_depth": "76 cm"}, ("head_depth", "head-too-deep")),
    ({**TANK_15, "hold_pressure": "1.1", "rated_pressure": "1 bar"}, ("hold_pressure", "hold-above-rated")),
    ({**TANK_15, "floor_pressure": "0.8", "hold_pressure": "0.7"}, ("floor_pressure", "floor-above-hold")),
)


@pytest.mark.parametrize(("texts", "problem"), IMPOSSIBLE)
def test_what_cannot_be_is_refused(texts, problem):
    # geometry, or one of two given; see the lines above
    assert refused(**texts) == [problem]


def test_a_gauge_above_the_rating_is_remarked_upon():
    texts = {**TANK_15, "pressure": "1.2 bar", "rated_pressure": "1 bar"}
    # 1.2 is more than 1
    assert reckon(calculators()["tank"], texts, "metric").remarks == ["above-rated"]
