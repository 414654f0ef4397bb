"""What runs out of a tank: the open port, the purge through valve and hose, the clock and the scale."""

import math

import fluids
import pytest
import uncertainties
from CoolProp.CoolProp import PropsSI
from scipy.optimize import minimize_scalar
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.physics.gas import co2_density
from tankfoot.physics.outflow import gas_outflow, is_choked
from tankfoot.physics.pipe import (
    diaphragm_valve_coefficient,
    friction_factor,
    friction_loss,
    step_coefficients,
)

ATMOSPHERE = 101325.0
PSI = 6894.757293168
BEER_BARREL = 0.1173477653  # m3, 31 US gallons
BORE = 0.0348
BORE_AREA = math.pi * BORE**2 / 4.0


def results(name, **texts):
    outcome = reckon(calculators()[name], texts)
    assert not outcome.problems, outcome.problems
    return {key: result.value for key, result in outcome.results.items() if result}


def refusals(name, **texts):
    return [(field, problem.code) for field, problem in reckon(calculators()[name], texts).problems]


def remarks(name, **texts):
    return reckon(calculators()[name], texts).remarks


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
