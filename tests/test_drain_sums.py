"""What the drain gets of a purge, and what that costs."""

import pytest
import uncertainties
from sums import reckoned, refusals, results

POUND = 0.45359237  # kg


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
