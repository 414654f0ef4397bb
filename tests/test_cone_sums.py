"""What lies in the cone, by its depth or its volume."""

import math

import fluids
import pytest
from sums import reckoned, refusals, results


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
