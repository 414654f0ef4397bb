"""The simulated tank against what was worked out elsewhere: CoolProp, and the same equations solved by scipy."""

import json
import math
from importlib.resources import files

import pytest
from CoolProp.CoolProp import PropsSI
from scipy.integrate import solve_ivp
from tankfoot.physics.gas import CO2_MOLAR_MASS, GAS_CONSTANT, co2_density, co2_second_virial
from tankfoot.physics.outflow import bore_area, gas_outflow
from tankfoot.physics.pipe import hose_speed
from tankfoot.physics.vessel import level_at_volume
from tankfoot.rehearsal import moves
from tankfoot.rehearsal.model import STEP, begin, step
from tankfoot.rehearsal.moves import headspace_of, moved, pressure_of, rates
from tankfoot.rehearsal.scenarios import scenarios
from tankfoot.rehearsal.setup import own_tank
from tankfoot.rehearsal.way_out import flow_valve_coefficient, isolation_coefficient
from tankfoot.tanks.shape import tank_shape

TIGHT = {"rtol": 1e-11, "atol": 1e-12, "method": "DOP853", "max_step": 0.25}
PSI = 6894.757293168
AIR = 101325.0


def tank(temperature=285.15, pressure=7e4, share=0.0, **more):
    """The state of a plain tank; without solids nothing but beer and gas is in the equations."""
    plain = scenarios()["plain-trub"]
    body = plain["tank"] | {"temperature": temperature, "pressure": pressure}
    changed = {"tank": body, "solids": plain["solids"] | {"share": share}, "vacuum_valve": None}
    return begin(plain | changed | more, "1")


def after(state, seconds):
    for _ in range(round(seconds / STEP)):
        state = step(state)
    return state


def solved(right_side, at_first, seconds):
    found = solve_ivp(right_side, (0.0, seconds), at_first, **TIGHT)
    assert found.success
    return found.y[:, -1]


# The model's equations once more, written from the sentences in docs/methods.md, for scipy.


def virial_slope(t):
    return (co2_second_virial(t + 0.01) - co2_second_virial(t - 0.01)) / 0.02


def gas(mass, volume, t):
    """(pressure, T dp/dT at constant volume, heat capacity): p = R T / (v - B), cv = 27.67 + 0.046 (T - 273.15)."""
    molar = volume * CO2_MOLAR_MASS / mass
    pressure = GAS_CONSTANT * t / (molar - co2_second_virial(t))
    gives = pressure + GAS_CONSTANT * t * t * virial_slope(t) / (molar - co2_second_virial(t)) ** 2
    return pressure, gives, mass / CO2_MOLAR_MASS * (27.67 + 0.046 * (t - 273.15))


def draw_equations(state, valve):
    """dV/dt and dT/dt of a shut tank that is drawn from: liquid (m3), temperature of the gas (K)."""
    setup, mass = state["setup"], state["co2"]
    loss = isolation_coefficient(1.0) + flow_valve_coefficient(valve)

    def right_side(_, y):
        liquid, t = y
        pressure, gives, capacity = gas(mass, setup["total"] - liquid, t)
        level = level_at_volume(liquid, 0.9, setup["cone"], 1.2)
        over = pressure - AIR + setup["density"] * 9.80665 * level
        speed = hose_speed(over, setup["bore"], loss, setup["hose_length"], setup["hose_bore"], setup["density"],
                           setup["viscosity"])
        flow = bore_area(setup["hose_bore"]) * speed
        return [-flow, -gives * flow / capacity + (setup["temperature"] - t) / moves.WARMS]

    return right_side


@pytest.mark.parametrize(("valve", "seconds"), [(0.08, 60.0), (0.3, 20.0), (1.0, 8.0)])
def test_a_draw_follows_its_equations(valve, seconds):
    state = {**tank(), "isolation": 1.0, "flow_valve": valve}
    liquid, t = solved(draw_equations(state, valve), [sum(state["tank"]), state["gas_temperature"]], seconds)
    end = after(state, seconds)
    assert sum(end["tank"]) == pytest.approx(liquid, rel=1e-7)
    assert end["gas_temperature"] == pytest.approx(t, abs=1e-4)
    expected, _, _ = gas(state["co2"], state["setup"]["total"] - liquid, t)
    assert pressure_of(end) == pytest.approx(expected, rel=5e-7)


def test_the_error_falls_with_the_square_of_the_step():
    # Source: the midpoint rule is of the second order (any text on numerical methods).
    state, seconds = {**tank(), "isolation": 1.0, "flow_valve": 0.3}, 10.0
    liquid, _ = solved(draw_equations(state, 0.3), [sum(state["tank"]), state["gas_temperature"]], seconds)

    def error(length):
        one = state
        for _ in range(round(seconds / length)):
            half = moved(one, one, rates(one), 0.5 * length)
            one = moved(one, half, rates(half), length)
        return abs(sum(one["tank"]) - liquid)

    assert error(0.4) / error(0.2) == pytest.approx(4.0, rel=0.15)


def test_venting_follows_its_equations():
    state = {**tank(), "vent": 0.3}
    setup, volume = state["setup"], headspace_of(state)

    def right_side(_, y):
        mass, t = y
        pressure, _, capacity = gas(mass, volume, t)
        out = 0.3 * gas_outflow(pressure, AIR, mass / volume, moves.VENT_BORE)
        cools = out / CO2_MOLAR_MASS * GAS_CONSTANT * t / capacity
        return [-out, -cools + (setup["temperature"] - t) / moves.WARMS]

    for seconds in (1.0, 5.0):
        mass, t = solved(right_side, [state["co2"], state["gas_temperature"]], seconds)
        end = after(state, seconds)
        assert end["co2"] == pytest.approx(mass, rel=2e-6)
        assert end["gas_temperature"] == pytest.approx(t, abs=2e-3)


def test_a_tank_empties_by_the_wrong_clamp_as_its_equations_say():
    state = {**tank(max_flow=0.03), "tank_side": "open", "gas": True, "regulator": 7e4}
    setup = state["setup"]

    def right_side(_, y):
        liquid, mass, t = y
        pressure, gives, capacity = gas(mass, setup["total"] - liquid, t)
        level = level_at_volume(liquid, 0.9, setup["cone"], 1.2)
        over = pressure - AIR + setup["density"] * 9.80665 * level
        flow = 0.8 * bore_area(setup["bore"]) * math.sqrt(2.0 * over / setup["density"])
        supply = setup["max_flow"] * min(1.0, max(0.0, (7e4 - pressure + AIR) / 1e4))
        room, moles = setup["room_temperature"], supply / CO2_MOLAR_MASS
        brings = moles * (capacity * CO2_MOLAR_MASS / mass * (room - t) + GAS_CONSTANT * room)
        return [-flow, supply, (brings - gives * flow) / capacity + (setup["temperature"] - t) / moves.WARMS]

    seconds = 70.0
    liquid, mass, t = solved(right_side, [sum(state["tank"]), state["co2"], state["gas_temperature"]], seconds)
    end = after(state, seconds)
    assert 0.01 < liquid < 0.15  # of 0.78 m3: nearly empty, the port still covered
    assert sum(end["tank"]) == pytest.approx(liquid, abs=2e-6)
    # The regulator's flow has a corner, where a step is of the first order only: 1.5e-6 of the gas.
    assert end["co2"] == pytest.approx(mass, rel=3e-6)
    assert end["gas_temperature"] == pytest.approx(t, abs=1e-3)


def test_yeast_that_works_in_a_shut_tank_follows_its_equations():
    state = tank(fall=5.0 / 86400.0)
    setup, volume, made = state["setup"], headspace_of(state), state["setup"]["made"]

    def right_side(_, y):
        mass, t = y
        _, _, capacity = gas(mass, volume, t)
        per_mole = capacity * CO2_MOLAR_MASS / mass
        moles = made / CO2_MOLAR_MASS
        brings = moles * (per_mole * (setup["temperature"] - t) + GAS_CONSTANT * setup["temperature"])
        return [made, brings / capacity + (setup["temperature"] - t) / moves.WARMS]

    mass, t = solved(right_side, [state["co2"], state["gas_temperature"]], 120.0)
    end = after(state, 120.0)
    assert end["co2"] == pytest.approx(mass, rel=1e-9)
    assert pressure_of(end) == pytest.approx(gas(mass, volume, t)[0], rel=1e-7)


def test_a_jet_from_the_wrong_clamp_is_that_of_the_open_port():
    state = after({**tank(), "tank_side": "open"}, STEP)
    # Source: short tube, Q = 0.80 A sqrt(2 p / rho), push 2 x 0.80^2 p A; H. W. King and E. F. Brater, Handbook of
    # Hydraulics (from memory). p: 0.7 bar and the liquid above the port.
    level = level_at_volume(sum(tank()["tank"]), 0.9, tank()["setup"]["cone"], 1.2)
    over, area = 7e4 + 1010.0 * 9.80665 * level, math.pi * 0.0381 ** 2 / 4.0
    assert state["jet"] == pytest.approx(0.8 * area * math.sqrt(2.0 * over / 1010.0), rel=5e-3)
    assert state["jet_push"] == pytest.approx(1.28 * over * area, rel=0.01)


@pytest.mark.parametrize("temperature", [274.0, 283.0, 293.0])
@pytest.mark.parametrize("gauge", [3e4, 6e4, 1e5])
def test_expansion_without_warming_is_that_of_the_reference_equation(temperature, gauge, monkeypatch):
    # Source: CoolProp, the equation of state of Span and Wagner (1996); gas that pushes liquid out expands at constant
    # entropy.
    monkeypatch.setattr(moves, "WARMS", 1e15)
    state = {**tank(temperature, gauge), "isolation": 1.0, "flow_valve": 0.3}
    end = after(state, 6.0)
    entropy = PropsSI("Smass", "T", temperature, "P", gauge + AIR, "CO2")
    density = PropsSI("Dmass", "T", temperature, "P", gauge + AIR, "CO2") * headspace_of(state) / headspace_of(end)
    fall = temperature - PropsSI("T", "Smass", entropy, "Dmass", density, "CO2")
    assert fall > 4.0
    assert temperature - end["gas_temperature"] == pytest.approx(fall, rel=0.012)
    assert pressure_of(end) == pytest.approx(PropsSI("P", "Smass", entropy, "Dmass", density, "CO2"), rel=4e-4)


@pytest.mark.parametrize("temperature", [274.0, 293.0])
def test_gas_that_is_warm_again_has_the_pressure_of_the_reference_equation(temperature):
    state = {**tank(temperature), "isolation": 1.0, "flow_valve": 0.3}
    drawn = after(state, 5.0)
    end = after({**drawn, "isolation": 0.0}, 12.0 * moves.WARMS)
    assert end["gauge"] > drawn["gauge"] + 3000.0
    # Source: CoolProp, the equation of state of Span and Wagner (1996).
    density = PropsSI("Dmass", "T", temperature, "P", 7e4 + AIR, "CO2") * headspace_of(state) / headspace_of(end)
    assert pressure_of(end) == pytest.approx(PropsSI("P", "T", temperature, "Dmass", density, "CO2"), rel=2e-4)


def test_warming_takes_the_time_that_is_assumed():
    # Source: a difference that falls in proportion to itself, exp(-t / T).
    state = {**tank(), "gas_temperature": 275.15}
    end = after(state, moves.WARMS)
    assert 285.15 - end["gas_temperature"] == pytest.approx(10.0 / math.e, rel=1e-6)


def demo_tanks():
    text = (files("tankfoot") / "site" / "assets" / "demo" / "record.json").read_text(encoding="utf-8")
    return [entry["body"] for entry in json.loads(text)["entries"] if entry["kind"] == "tank"]


@pytest.mark.parametrize("body", demo_tanks(), ids=lambda body: body["name"])
def test_a_purge_drops_the_gauge_by_about_two_psi(body):
    # Common practice, no source: about two psi for a purge, gas shut, on a full tank at its usual pressure.
    full = body | {"beer_volume": 0.84 * tank_shape(body)["total"], "pressure": None}
    state = begin(own_tank(scenarios()["own-tank"], full, AIR), "1")
    state = {**state, "isolation": 1.0, "flow_valve": 0.06}
    before = state["gauge"]
    while not state["turned"]:
        state = step(state)
    settled = after({**state, "flow_valve": 0.0}, 6.0 * moves.WARMS)
    assert (before - settled["gauge"]) / PSI == pytest.approx(2.0, abs=1.0)


def test_the_gas_of_a_tank_at_rest_is_that_of_its_gauge():
    state = tank(275.15, 68947.6)
    assert state["co2"] == pytest.approx(co2_density(68947.6 + AIR, 275.15) * headspace_of(state), rel=1e-12)
    assert after(state, 5.0)["gauge"] == pytest.approx(68947.6, rel=1e-9)
