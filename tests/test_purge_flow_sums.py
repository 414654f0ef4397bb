"""How fast a purge runs through valve and hose."""

import math

import fluids
import pytest
from sums import refusals, remarks, results
from tankfoot.physics.pipe import (
    diaphragm_valve_coefficient,
    friction_factor,
    friction_loss,
    step_coefficients,
)

PSI = 6894.757293168
BORE = 0.0348

# Source: energy balance solved apart from this project with fluids (friction by Clamond's exact Colebrook
# without roughness, sharp entrance 0.5, sharp diffuser): weir diaphragm valve on a 34.8 mm port, 3 m of 38
# mm smooth hose, beer of 1010 kg/m3: gauge psi, head m, viscosity mPa s, K, flow L/s, speed in the port
# m/s, Reynolds number.
ENERGY_BALANCES = [
    (5, 2, 1.8, 0.811546, 5.66821, 5.95934, 106567),
    (8, 2, 1.8, 3.10052, 5.01437, 5.27192, 94274.1),
    (10, 0, 1.8, 0.811546, 6.41449, 6.74394, 120597),
    (10, 0, 1.8, 3.10052, 4.80473, 5.05151, 90332.6),
    (10, 0, 3, 3.10052, 4.75094, 4.99495, 53592.8),
    (10, 2, 1.8, 10, 3.59321, 3.77776, 67555.1),
    (11, 3, 1.8, 3.10052, 5.97027, 6.27691, 112246),
    (15, 4, 1.8, 0.811546, 9.34924, 9.82942, 175773),
    (15, 4, 3, 10, 4.54907, 4.78271, 51315.6),
]


@pytest.mark.parametrize(("psi", "head", "viscosity", "k", "flow", "speed", "reynolds"), ENERGY_BALANCES)
def test_a_purge_runs_as_the_energy_balance_says(psi, head, viscosity, k, flow, speed, reynolds):
    found = results(
        "purge-flow",
        pressure=f"{psi} psi",
        liquid_head=f"{head} m",
        bore="34.8 mm",
        loss_coefficient=str(k),
        hose_length="3 m",
        hose_bore="38 mm",
        volume="100 L",
        viscosity=f"{viscosity} mPa·s",
    )
    assert found["flow"] == pytest.approx(flow / 1000.0, rel=1e-4)
    assert found["port_speed"] == pytest.approx(speed, rel=1e-4)
    assert found["reynolds"] == pytest.approx(reynolds, rel=1e-4)
    assert found["duration"] == pytest.approx(100.0 / flow, rel=1e-4)


# Source: fluids.friction_factor, exact Colebrook when turbulent and 64 / Re when laminar.
@pytest.mark.parametrize("reynolds", [1.0, 500.0, 1999.0, 4000.0, 5000.0, 2e4, 1e5, 1e6, 1e7])
def test_the_friction_factor_is_that_of_a_smooth_pipe(reynolds):
    assert friction_factor(reynolds) == pytest.approx(fluids.friction_factor(reynolds), rel=1e-4)


# Source: Hagen and Poiseuille, Q = pi d^4 dp / (128 mu L).
def test_thick_yeast_creeps_by_the_law_of_poiseuille():
    viscosity, length, bore, speed = 0.5, 3.0, 0.038, 0.4
    drop = friction_loss(speed, length, bore, 1050.0, viscosity)
    assert math.pi * bore**4 * drop / (128.0 * viscosity * length) == pytest.approx(
        math.pi * bore**2 / 4.0 * speed
    )


# Source: L. F. Moody (1944): the true friction between the regimes lies between the laminar line and the
# turbulent one.
@pytest.mark.parametrize("reynolds", [2100.0, 3000.0, 3900.0])
def test_between_the_regimes_friction_stays_between_the_two_lines(reynolds):
    turbulent = fluids.friction.Colebrook(reynolds, 0.0)
    assert 64.0 / reynolds < friction_factor(reynolds) < turbulent


# Source: fluids, sharp diffuser and sharp contraction (Crane).
@pytest.mark.parametrize(
    ("first", "second"), [(0.0348, 0.038), (0.0348, 0.05), (0.05, 0.0348), (0.0475, 0.02)]
)
def test_a_step_loses_what_a_sharp_fitting_does(first, second):
    wider, narrower = step_coefficients(first, second)
    if second > first:
        assert (wider, narrower) == (pytest.approx(fluids.diffuser_sharp(first, second)), 0.0)
    else:
        assert (wider, narrower) == (
            0.0,
            pytest.approx(fluids.contraction_sharp(first, second, method="Crane")),
        )


# Source: Perry's Chemical Engineers' Handbook, frictional loss in valves: diaphragm valve.
@pytest.mark.parametrize(("opening", "k"), [(1.0, 2.3), (0.75, 2.6), (0.5, 4.3), (0.25, 21.0)])
def test_the_flow_valve_has_the_handbook_loss_at_each_opening(opening, k):
    assert diaphragm_valve_coefficient(opening) == pytest.approx(k, rel=1e-12)


# Source: fluids, Crane's weir diaphragm valve of this bore, 3.1: two published open valves agree within
# makes' spread.
def test_the_open_valve_is_of_the_size_that_another_handbook_gives():
    crane = fluids.fittings.K_diaphragm_valve_Crane(D=BORE, style=0)
    assert diaphragm_valve_coefficient(1.0) == pytest.approx(crane, rel=0.34)


# Source: fluids.dP_from_K, bare entrance and valve without a hose: 0.5 + 2.3 + 1 velocity heads.
def test_without_a_hose_only_entrance_valve_and_exit_are_left():
    found = results(
        "purge-flow",
        pressure="10 psi",
        liquid_head="0 m",
        bore="34.8 mm",
        valve_opening="100 %",
        hose_length="0 m",
        volume="100 L",
    )
    drop = fluids.dP_from_K(K=3.8, rho=1010.0, V=found["port_speed"])
    assert drop == pytest.approx(10.0 * PSI, rel=1e-9)


# Source: Reynolds numbers 2,000 and 4,000 bound the critical zone (Moody 1944).
@pytest.mark.parametrize(
    ("viscosity", "remark"), [("3 mPa·s", "turbulent"), ("60 mPa·s", "in-between"), ("2000 mPa·s", "laminar")]
)
def test_the_kind_of_flow_is_told(viscosity, remark):
    given = {
        "pressure": "10 psi",
        "liquid_head": "2 m",
        "bore": "34.8 mm",
        "valve_opening": "50 %",
        "hose_length": "3 m",
        "volume": "10 L",
        "viscosity": viscosity,
    }
    reynolds = results("purge-flow", **given)["reynolds"]
    assert remarks("purge-flow", **given) == [remark]
    assert {"laminar": reynolds <= 2000, "in-between": 2000 < reynolds < 4000, "turbulent": reynolds >= 4000}[
        remark
    ]


# Source: the handbook's table ends at a quarter open; one valve has one loss coefficient.
def test_a_purge_wants_one_valve_within_the_table():
    given = {
        "pressure": "10 psi",
        "liquid_head": "2 m",
        "bore": "34.8 mm",
        "hose_length": "3 m",
        "volume": "10 L",
    }
    assert refusals("purge-flow", **given) == [("valve_opening", "no-valve")]
    both = {**given, "valve_opening": "50 %", "loss_coefficient": "5"}
    assert refusals("purge-flow", **both) == [("loss_coefficient", "two-valves")]
    assert refusals("purge-flow", **given, valve_opening="20 %") == [("valve_opening", "too-low")]
    pushed = {**given, "pressure": "0 psi", "liquid_head": "0 m", "valve_opening": "50 %"}
    assert refusals("purge-flow", **pushed) == [("pressure", "nothing-pushes")]
