"""Vacuum margin, leak-down and air purge, against closed forms and a reference equation of state."""

import math

import pytest
from CoolProp.CoolProp import PropsSI
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.physics.gas import co2_density
from tankfoot.physics.headspace import pressure_at_density
from tankfoot.quantities.units import units

ATMOSPHERE = 101325.0  # Pa
PSI = 6894.757293168361  # Pa
BARREL = 0.11734776530  # m3, 31 US gallons


def outcome(id, texts, system="us"):
    return reckon(calculators()[id], texts, system)


def values(id, texts):
    found = outcome(id, texts)
    assert not found.problems, found.problems
    return {name: result and result.value for name, result in found.results.items()}


def refusals(id, texts):
    return [(name, problem.code) for name, problem in outcome(id, texts).problems]


def density(pressure, temperature):
    return PropsSI("D", "T", temperature, "P", pressure, "CO2")


MARGIN = {"headspace": "5 bbl", "pressure_before": "10 psi", "temperature": "2 °C", "draw_flow": "15 gal/min"}


# Source: Boyle's law, dV = V p_gauge / p_air: headspace bbl, gauge psi, air kPa, bbl to zero gauge; CO2 is up
# to 1.2 % denser than an ideal gas here.
@pytest.mark.parametrize(
    ("headspace", "gauge", "air", "barrels"),
    [
        (3, 10, 101.325, 2.04138), (5, 10, 101.325, 3.4023),
        (4, 15, 101.325, 4.08276), (3, 10, 83.5277, 2.47634),
    ],
)
def test_the_draw_to_zero_is_boyles(headspace, gauge, air, barrels):
    texts = {"headspace": f"{headspace} bbl", "pressure_before": f"{gauge} psi", "air_pressure": f"{air} kPa"}
    drawn = values("vacuum-margin", texts)["draw_to_zero"] / BARREL
    assert drawn == pytest.approx(barrels, rel=0.014)
    assert drawn > barrels


@pytest.mark.parametrize("gauge", [1.0, 10.0, 28.0])
@pytest.mark.parametrize("celsius", [0.0, 2.0, 10.0, 20.0])
def test_the_draw_to_zero_is_the_reference_equations(celsius, gauge):
    # Source: Span and Wagner (1996) through CoolProp.
    texts = {**MARGIN, "pressure_before": f"{gauge} psi", "temperature": f"{celsius} °C"}
    full = density(gauge * PSI + ATMOSPHERE, celsius + 273.15)
    expected = 5.0 * BARREL * (full / density(ATMOSPHERE, celsius + 273.15) - 1.0)
    assert values("vacuum-margin", texts)["draw_to_zero"] == pytest.approx(expected, rel=0.002)


def test_the_time_and_the_gas_to_hold_follow_from_the_flow():
    # Source: Span and Wagner (1996) through CoolProp; volume over flow; volume in is volume out.
    found = values("vacuum-margin", MARGIN)
    flow = 15 * 3.785411784e-3 / 60.0
    assert found["time_to_zero"] == pytest.approx(found["draw_to_zero"] / flow, rel=1e-9)
    assert found["makeup_mass_flow"] == pytest.approx(flow * density(10 * PSI + ATMOSPHERE, 275.15), rel=5e-4)


def test_without_a_flow_there_is_no_time():
    # Source: nothing to divide by.
    found = values("vacuum-margin", {**MARGIN, "draw_flow": ""})
    assert (found["time_to_zero"], found["makeup_mass_flow"]) == (None, None)


def test_a_tank_at_outside_pressure_has_no_margin():
    # Source: common practice, no source: never draw a tank at zero gauge with the gas shut.
    found = refusals("vacuum-margin", {**MARGIN, "pressure_before": "0 psi"})
    assert found == [("pressure_before", "no-margin")]


@pytest.mark.parametrize(("flow", "said"), [("60 gal/min", True), ("15 gal/min", False)])
def test_less_than_a_minute_is_said(flow, said):
    # Source: closed form: 3.4 bbl are 106 US gallons, 106 s at 60 a minute; a 1 bbl headspace has a fifth of
    # that.
    texts = {**MARGIN, "headspace": "1 bbl", "draw_flow": flow}
    assert ("under-a-minute" in outcome("vacuum-margin", texts).remarks) is said


LEAK = {
    "headspace": "20 hL", "elapsed": "12 h",
    "pressure_before": "80 kPa", "temperature_before": "20 °C",
    "pressure_after": "63 kPa", "temperature_after": "15 °C",
}


def test_pressure_follows_temperature_in_a_shut_can():
    # Source: OpenStax, Chemistry 2e, section 9.2, example on Amontons's law: 360 kPa at 24 °C is 390 kPa at
    # 50 °C (ideal gas, two digits).
    warmed = pressure_at_density(co2_density(360000.0, 297.15), 323.15)
    assert warmed == pytest.approx(390000.0, rel=0.01)


def test_gas_that_only_cooled_shows_no_leak():
    # Source: Amontons's law, p2 = p1 T2 / T1 on absolute pressures, worked by hand: (80 + 101.325) x 288.15 /
    # 293.15 - 101.325 = 76.907 kPa; the real gas falls 0.03 kPa further.
    found = outcome("leak-down", {**LEAK, "pressure_after": "76.9 kPa"})
    assert found.results["pressure_at_same_temperature"].value == pytest.approx(80000.0, abs=100.0)
    one_percent_a_day = 0.01 * 2.0 * density(181325.0, 293.15) / 86400.0
    assert abs(found.results["leak_rate"].value) < one_percent_a_day


def test_the_leak_is_the_reference_equations():
    # Source: Span and Wagner (1996) through CoolProp.
    before, after = density(80000.0 + ATMOSPHERE, 293.15), density(63000.0 + ATMOSPHERE, 288.15)
    found = values("leak-down", {**LEAK, "floor_pressure": "20 kPa"})
    assert found["leak_rate"] == pytest.approx(2.0 * (before - after) / 43200.0, rel=0.005)
    same = PropsSI("P", "T", 293.15, "D", after, "CO2") - ATMOSPHERE
    assert found["pressure_at_same_temperature"] == pytest.approx(same, rel=0.001)
    left = 2.0 * (after - density(20000.0 + ATMOSPHERE, 288.15))
    assert found["time_to_floor"] == pytest.approx(left / found["leak_rate"], rel=0.002)


def test_at_one_temperature_a_leak_is_the_drop_of_the_gauge():
    # Source: same gas, same temperature: the second reading stands as it is.
    found = values("leak-down", {**LEAK, "temperature_after": "20 °C"})
    assert found["pressure_at_same_temperature"] == pytest.approx(63000.0, rel=1e-9)


# Source: Amontons's law: 5 °C off 293 K takes 1.7 % off the absolute pressure, 3.1 kPa here.
@pytest.mark.parametrize(
    ("pressure", "temperature", "remark"),
    [
        ("63 kPa", "15 °C", []),
        ("78 kPa", "15 °C", ["cooling-explains-it"]),
        ("81 kPa", "20 °C", ["nothing-lost"]),
        ("80 kPa", "25 °C", ["warming-hides-it"]),
    ],
)
def test_the_readings_are_put_into_words(pressure, temperature, remark):
    texts = {**LEAK, "pressure_after": pressure, "temperature_after": temperature}
    assert outcome("leak-down", texts).remarks == remark


def test_there_is_no_time_to_a_floor_without_a_leak():
    # Source: Amontons's law as above; a floor that is already passed.
    cooled = {**LEAK, "pressure_after": "78 kPa"}
    found = refusals("leak-down", {**cooled, "floor_pressure": "20 kPa"})
    assert found == [("floor_pressure", "nothing-to-time")]
    found = refusals("leak-down", {**LEAK, "floor_pressure": "70 kPa"})
    assert found == [("floor_pressure", "at-the-floor")]


def pops(top_bar_absolute, target, **more):
    """An air purge at 1.013 bar outside with clean gas."""
    texts = {
        "volume": "2 L", "air_pressure": "101.3 kPa", "top_pressure": f"{top_bar_absolute - 1.013:.3f} bar",
        "target_oxygen": target, "gas_oxygen": "0 ppm", **more,
    }
    return values("air-purge", texts)


# Source: closed form x = 20.95 % (p_low / p_high)^n, worked out apart: bar absolute, ppm to reach, pops.
@pytest.mark.parametrize(
    ("top", "ppm", "count"),
    [
        (1.5, 1000, 14), (1.5, 100, 20), (1.5, 10, 26),
        (2.0, 1000, 8), (2.0, 100, 12), (2.0, 1, 19),
        (3.0, 1000, 5), (3.0, 100, 8), (3.0, 10, 10), (3.0, 1, 12),
    ],
)
def test_the_number_of_pops_is_the_closed_forms(top, ppm, count):
    assert pops(top, f"{ppm} ppm")["cycles"] == count


# Source: the same closed form, ppm left after that many pops.
@pytest.mark.parametrize(
    ("top", "target", "left"),
    [
        (1.5, "5000 ppm", 4133.96), (2.0, "1000 ppm", 907.444),
        (3.0, "1000 ppm", 919.655), (3.0, "50 ppm", 35.407),
    ],
)
def test_the_oxygen_left_is_the_closed_forms(top, target, left):
    assert pops(top, target)["oxygen_left"] == pytest.approx(left * 1e-6, rel=1e-5)


def test_oxygen_in_the_gas_stays():
    # Source: closed form x_gas + (x_air - x_gas) r^n with r = 1.013 / 2, 30 ppm, n = 10: 262.764 ppm.
    assert pops(2.0, "263 ppm", gas_oxygen="30 ppm")["oxygen_left"] == pytest.approx(262.7643e-6, rel=1e-5)


def test_a_mountain_takes_fewer_pops_for_the_same_gauge():
    # Source: closed form, 83.52767 kPa outside (1,600 m) and 98.7 kPa gauge, five pops: 4239.0 ppm.
    found = pops(2.0, "4240 ppm", air_pressure="83.52767 kPa")
    assert found["cycles"] == 5
    assert found["oxygen_left"] == pytest.approx(4239.0087e-6, rel=1e-5)


def test_the_pickup_is_the_oxygen_left_over_the_beer():
    # Source: ideal gas by hand: 2 L at 101.3 kPa and 10 °C hold 86.06 mmol; 907.444 ppm of it is 78.09 µmol
    # of O2, at 31.9988 g/mol 2.499 mg, in 1,000 L of beer 2.499 µg/L.
    found = pops(2.0, "1000 ppm", beer_volume="1000 L", temperature="10 °C")
    assert found["oxygen_pickup"] / units()["µg/L"].factor == pytest.approx(2.499, rel=1e-3)


def test_venting_to_a_little_above_zero_takes_more_pops():
    # Source: closed form: each pop after the first thins by p_vent / p_top instead of p_air / p_top.
    found = pops(2.0, "1000 ppm", vent_pressure="0.2 bar")
    first, ratio = 0.2095 * 1.013 / 2.0, 1.213 / 2.0
    needed = 1 + math.ceil(math.log(0.001 / first) / math.log(ratio))
    assert found["cycles"] == needed
    assert found["oxygen_left"] == pytest.approx(first * math.pow(ratio, needed - 1), rel=1e-9)


# Source: closed form: no gas leaves without a drop; gas cannot get cleaner than itself; 0.1 psi thins by 0.7
# % a pop.
@pytest.mark.parametrize(
    ("texts", "refusal"),
    [
        ({"vent_pressure": "15 psi"}, ("vent_pressure", "vent-not-below-top")),
        ({"target_oxygen": "20 ppm"}, ("target_oxygen", "gas-is-not-that-clean")),
        ({"top_pressure": "0.1 psi"}, ("top_pressure", "too-many-pops")),
    ],
)
def test_a_purge_that_cannot_work_is_refused(texts, refusal):
    sound = {"volume": "2 L", "top_pressure": "15 psi", "target_oxygen": "1000 ppm"}
    assert refusals("air-purge", sound) == []
    assert refusals("air-purge", {**sound, **texts}) == [refusal]
