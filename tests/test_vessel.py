"""The shape of a tank, against a reference library and closed forms."""

import math
import random

import pytest
from fluids.geometry import TANK
from scipy.integrate import quad
from tankfoot.physics.vessel import (
    cone_angle,
    cone_height,
    cone_volume,
    head_volume,
    level_at_volume,
    radius_at_level,
    straight_volume,
    volume_at_level,
)

CLOSE = 1e-9  # relative

CONES = (60.0, 70.0, 90.0)
SIZES = ((0.9, 1.2), (1.5, 2.0), (2.4, 3.0))  # diameter, straight side, m
HEADS = (0.0, 0.1, 0.3)  # depth, m


def reference_tank(diameter, angle, straight, depth):
    cone = cone_height(diameter, math.radians(angle))
    head = {"sideB": "spherical", "sideB_a": depth} if depth else {}
    return cone, TANK(D=diameter, L=straight, horizontal=False, sideA="conical", sideA_a=cone, **head)


@pytest.mark.parametrize("depth", HEADS)
@pytest.mark.parametrize(("diameter", "straight"), SIZES)
@pytest.mark.parametrize("angle", CONES)
def test_the_volume_at_a_level_is_the_reference_librarys(angle, diameter, straight, depth):
    cone, tank = reference_tank(diameter, angle, straight, depth)
    for part in (0.001, 0.1, 0.3, 0.5, 0.8, 0.95, 0.999, 1.0):
        level = part * (cone + straight + depth)
        volume = volume_at_level(level, diameter, cone, straight, depth)
        # fluids.geometry.TANK.V_from_h
        assert volume == pytest.approx(tank.V_from_h(level), rel=CLOSE)


@pytest.mark.parametrize("depth", HEADS)
@pytest.mark.parametrize(("diameter", "straight"), SIZES)
@pytest.mark.parametrize("angle", CONES)
def test_total_head_and_cone_are_the_reference_librarys(angle, diameter, straight, depth):
    cone, tank = reference_tank(diameter, angle, straight, depth)
    total = straight_volume(diameter, cone, straight) + head_volume(diameter, depth)
    # fluids.geometry.TANK.V_total, V_sideA, V_sideB
    assert total == pytest.approx(tank.V_total, rel=CLOSE)
    assert cone_volume(diameter, cone) == pytest.approx(tank.V_sideA, rel=CLOSE)
    assert head_volume(diameter, depth) == pytest.approx(tank.V_sideB, rel=CLOSE, abs=1e-15)


# fluids.geometry.TANK(D, L, horizontal=False, sideA="conical").V_from_h, six digits:
# diameter m, full cone angle, straight side m, level m, volume L
LEVELS = (
    (0.9, 60, 1.2, 0.5, 43.6332), (0.9, 60, 1.2, 1.5, 623.694), (1.2, 70, 1.5, 1.6, 1163.48),
    (1.5, 70, 2.0, 0.6, 110.901), (1.8, 70, 2.5, 3.0, 5453.55), (2.1, 90, 2.5, 2.2, 5195.41),
    (2.4, 60, 3.0, 4.0, 11827.1), (2.4, 90, 3.0, 0.35, 44.8986), (1.8, 90, 2.2, 0.9, 763.407),
)


@pytest.mark.parametrize(("diameter", "angle", "straight", "level", "litres"), LEVELS)
def test_worked_levels_hold_their_volumes(diameter, angle, straight, level, litres):
    cone = cone_height(diameter, math.radians(angle))
    # the table above
    assert volume_at_level(level, diameter, cone, straight) * 1000.0 == pytest.approx(litres, rel=5e-6)


# scipy.optimize.brentq on fluids.geometry.TANK.V_from_h:
# diameter m, full cone angle, straight side m, volume L, level m
VOLUMES = (
    (0.9, 60, 1.2, 50.0, 0.5232239), (0.9, 60, 1.2, 600.0, 1.4627556), (1.2, 60, 1.5, 200.0, 0.8305661),
    (1.2, 70, 1.5, 1000.0, 1.4554533), (2.4, 90, 3.0, 100.0, 0.4570781),
)


@pytest.mark.parametrize(("diameter", "angle", "straight", "litres", "level"), VOLUMES)
def test_worked_volumes_stand_at_their_levels(diameter, angle, straight, litres, level):
    cone = cone_height(diameter, math.radians(angle))
    # the table above, seven decimals
    assert level_at_volume(litres / 1000.0, diameter, cone, straight) == pytest.approx(level, abs=5.1e-8)


def test_the_level_of_a_volume_holds_that_volume_in_the_reference_library():
    rng = random.Random(7)
    for _ in range(300):
        diameter, angle, straight = rng.uniform(0.3, 6.0), rng.choice(CONES), rng.uniform(0.2, 12.0)
        cone, tank = reference_tank(diameter, angle, straight, 0.0)
        volume = rng.random() * straight_volume(diameter, cone, straight)
        level = level_at_volume(volume, diameter, cone, straight)
        # fluids.geometry.TANK.V_from_h
        assert tank.V_from_h(level) == pytest.approx(volume, rel=CLOSE)


def test_the_radius_integrates_to_the_volume():
    diameter, cone, straight, depth = 1.5, 1.1, 2.0, 0.3

    def area(level):
        return math.pi * radius_at_level(level, diameter, cone, straight, depth) ** 2

    integral, _ = quad(area, 0.0, 3.4, points=(cone, cone + straight))
    # a solid of revolution: V = integral of pi r^2
    assert integral == pytest.approx(volume_at_level(3.4, diameter, cone, straight, depth), rel=CLOSE)


def test_a_cone_as_high_as_it_is_wide_opens_53_degrees():
    # 3-4-5 right triangle: 2 atan(1/2) = atan(4/3), 53.1301 degrees
    assert math.degrees(cone_angle(1.0, 1.0)) == pytest.approx(math.degrees(math.atan2(4.0, 3.0)), rel=CLOSE)


def test_a_head_as_deep_as_half_the_diameter_is_a_half_sphere():
    # Archimedes: 2/3 pi r^3
    assert head_volume(2.0, 1.0) == pytest.approx(2.0 * math.pi / 3.0, rel=CLOSE)


def test_no_level_is_given_above_the_straight_side():
    full = straight_volume(1.2, 1.0, 1.5)
    # the closed form ends at the top of the straight side
    assert level_at_volume(full, 1.2, 1.0, 1.5) == pytest.approx(2.5, rel=CLOSE)
    with pytest.raises(ValueError, match="straight side"):
        level_at_volume(full * 1.0001, 1.2, 1.0, 1.5)
