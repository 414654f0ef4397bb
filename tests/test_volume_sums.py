"""What left the tank, by the clock and by the scale."""

import pytest
import uncertainties
from sums import refusals, results
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon

BEER_BARREL = 0.1173477653  # m3, 31 US gallons


# Source: the uncertainties package, first-order propagation for 10.0 ± 0.3 L in 20.0 ± 0.5 s, run for 45 ±
# 1 s.
def test_clock_and_bucket_carry_their_doubt_by_the_gum():
    typed = {"duration": "45 ± 1 s", "bucket_volume": "10 ± 0.3 L", "bucket_time": "20 ± 0.5 s"}
    result = reckon(calculators()["timed-volume"], typed).results["volume_lost"]
    truth = (
        uncertainties.ufloat(10.0, 0.3) / uncertainties.ufloat(20.0, 0.5) * uncertainties.ufloat(45.0, 1.0)
    )
    assert result.value * 1000.0 == pytest.approx(truth.nominal_value, rel=1e-12)
    assert result.uncertainty * 1000.0 == pytest.approx(truth.std_dev, rel=1e-4)


# Source: arithmetic by hand: 5 US gallons a minute for 93 seconds are 7.75 gallons, a quarter of a 31
# gallon barrel.
def test_a_known_flow_for_a_known_time_is_a_volume():
    assert results("timed-volume", flow="5 gal/min", duration="93 s")["volume_lost"] == pytest.approx(
        BEER_BARREL / 4
    )


def test_a_bucket_test_is_a_volume_and_a_time_and_no_other_flow():
    assert refusals("timed-volume", duration="45 s") == [("flow", "no-flow")]
    assert refusals("timed-volume", duration="45 s", bucket_volume="10 L") == [
        ("bucket_time", "half-a-bucket-test")
    ]
    two = {"duration": "45 s", "bucket_volume": "10 L", "bucket_time": "20 s", "flow": "5 gal/min"}
    assert refusals("timed-volume", **two) == [("flow", "two-flows")]


# Source: the uncertainties package, first-order propagation for (20 ± 0.1 - 1.1 ± 0.1) kg over 1.03 ± 0.02
# kg/L.
def test_the_scale_carries_its_doubt_by_the_gum():
    typed = {"mass": "20 ± 0.1 kg", "tare": "1.1 ± 0.1 kg", "density": "1.03 ± 0.02 g/mL"}
    result = reckon(calculators()["weighed-volume"], typed, "metric").results["volume_lost"]
    net = uncertainties.ufloat(20.0, 0.1) - uncertainties.ufloat(1.1, 0.1)
    truth = net / uncertainties.ufloat(1.03, 0.02)
    assert result.value * 1000.0 == pytest.approx(truth.nominal_value, rel=1e-12)
    assert result.uncertainty * 1000.0 == pytest.approx(truth.std_dev, rel=1e-4)


# Source: a US beer barrel of water, 31 gallons of 8.345 lb (3.785411784 L at 1 kg/L), weighs 258.7 lb.
def test_a_barrel_of_water_weighs_two_hundred_and_fifty_nine_pounds():
    found = results("weighed-volume", mass="258.7 lb", density="1 g/mL")
    assert found["volume_lost"] == pytest.approx(BEER_BARREL, rel=1e-3)


def test_a_container_cannot_weigh_more_than_itself_when_full():
    assert refusals("weighed-volume", mass="2 lb", tare="2 lb") == [("tare", "nothing-in-it")]
