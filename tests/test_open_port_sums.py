"""What an open port lets out: beer, then gas."""

import math

import fluids
import pytest
from CoolProp.CoolProp import PropsSI
from scipy.optimize import minimize_scalar
from sums import remarks, results
from tankfoot.physics.gas import co2_density
from tankfoot.physics.outflow import gas_outflow, is_choked

ATMOSPHERE = 101325.0
PSI = 6894.757293168
BORE = 0.0348
BORE_AREA = math.pi * BORE**2 / 4.0


# Source: Torricelli's law with the gas pressure added and a discharge coefficient of 0.80, worked out apart
# from this project for beer of 1010 kg/m3 in a 34.8 mm bore: gauge psi, head in m, jet in m/s, flow in L/s.
@pytest.mark.parametrize(
    ("psi", "head", "speed", "litres_a_second"),
    [
        (5, 0, 8.26226, 6.2869),
        (5, 4, 12.1127, 9.2168),
        (10, 0, 11.6846, 8.8910),
        (10, 2, 13.2573, 10.0877),
        (11, 3, 14.4576, 11.0011),
        (15, 4, 16.8300, 12.8062),
    ],
)
def test_a_bare_port_lets_out_what_a_short_tube_does(psi, head, speed, litres_a_second):
    given = {"pressure": f"{psi} psi", "liquid_head": f"{head} m", "bore": "34.8 mm"}
    found = results("open-port", **given)
    assert found["exit_speed"] == pytest.approx(speed, rel=2e-5)
    assert found["flow"] == pytest.approx(litres_a_second / 1000.0, rel=2e-5)


# Source: fluids, the discharge through an opening of a known loss coefficient: 1 / 0.80^2 velocity heads.
def test_a_bare_port_has_the_pressure_drop_that_fluids_gives_for_its_speed():
    found = results("open-port", pressure="10 psi", liquid_head="2 m", bore="34.8 mm")
    drop = fluids.dP_from_K(K=1.0 / 0.8**2, rho=1010.0, V=found["flow"] / BORE_AREA)
    assert drop == pytest.approx(10.0 * PSI + 1010.0 * fluids.constants.g * 2.0, rel=1e-9)


# Source: F = p A, worked out apart from this project: 1.5 inch tube of 34.798 mm bore at 10 psi, 65.5718 N.
def test_a_cap_on_a_small_port_at_ten_psi_pushes_back_with_fifteen_pounds():
    found = results("open-port", pressure="10 psi", liquid_head="0 m", bore="34.798 mm")
    assert found["force_on_cap"] == pytest.approx(65.5718, rel=1e-5)


# Common practice, no source: a bare 1.5 inch port at 11 psi loses about two barrels before it is capped,
# which takes tens of seconds.
@pytest.mark.parametrize("head", ["0 ft", "6 ft", "12 ft"])
def test_two_barrels_are_gone_in_tens_of_seconds(head):
    found = results("open-port", pressure="11 psi", liquid_head=head, bore="34.8 mm", loss_volume="2 bbl")
    assert 10.0 < found["time_to_lose"] < 60.0


def _most_that_flows(inside, outside, temperature):
    """Mass flow a square metre, by Span and Wagner's equation of state along the isentrope."""
    enthalpy, entropy = (PropsSI(what, "P", inside, "T", temperature, "CO2") for what in "HS")

    def flux(pressure):
        fall = enthalpy - PropsSI("H", "P", pressure, "S", entropy, "CO2")
        return PropsSI("D", "P", pressure, "S", entropy, "CO2") * math.sqrt(2.0 * max(fall, 0.0))

    best = minimize_scalar(
        lambda p: -flux(p), bounds=(outside, inside), method="bounded", options={"xatol": 1.0}
    )
    return max(flux(best.x), flux(outside))


# Source: CoolProp (Span and Wagner 1996), isentropic expansion of real CO2, times the same 0.80.
@pytest.mark.parametrize("gauge", [1e3, 1e4, 3e4, 7e4, 1.03e5])
def test_the_gas_after_the_beer_is_what_an_isentropic_nozzle_passes(gauge):
    inside, temperature = ATMOSPHERE + gauge, 275.15
    flow = gas_outflow(inside, ATMOSPHERE, co2_density(inside, temperature), BORE)
    truth = 0.8 * BORE_AREA * _most_that_flows(inside, ATMOSPHERE, temperature)
    assert flow == pytest.approx(truth, rel=0.005)


# Source: fluids, critical flow of a gas with cp/cv 1.30.
@pytest.mark.parametrize("gauge", [0.0, 5e4, 8e4, 8.4e4, 8.5e4, 1e5, 4e5])
def test_the_gas_is_choked_where_fluids_says_so(gauge):
    inside = ATMOSPHERE + gauge
    assert is_choked(inside, ATMOSPHERE) == fluids.is_critical_flow(inside, ATMOSPHERE, k=1.3)


# Source: the limit of a nozzle at rest: without pressure no gas flows, and liquid alone still runs.
def test_with_no_pressure_beer_runs_but_no_gas_does():
    found = results("open-port", pressure="0 psi", liquid_head="2 m", bore="34.8 mm")
    assert found["gas_flow"] == 0.0
    assert found["flow"] > 0.0


# Source: the site's lower air pressure at height lets the same gauge pressure choke sooner: fluids, cp/cv
# 1.30.
def test_at_height_the_same_gauge_pressure_chokes_the_gas():
    given = {"pressure": "11 psi", "liquid_head": "0 m", "bore": "34.8 mm"}
    assert fluids.is_critical_flow(11 * PSI + 83527.67, 83527.67, 1.3)
    assert "gas-choked" in remarks("open-port", air_pressure="83.52767 kPa", **given)
    assert "gas-choked" not in remarks("open-port", **given)
