"""Carbonation and pressure, against oceanography, a reference equation of state and the trade's charts."""

import pytest
from CoolProp.CoolProp import PT_INPUTS, AbstractState, PropsSI
from PyCO2SYS.equilibria.p1atm import kCO2_W74
from scipy.optimize import brentq
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.physics.headspace import settled_pressure
from tankfoot.physics.solubility import co2_in_beer, co2_in_water, co2_solubility, water_vapour_pressure
from tankfoot.quantities.units import units

ATMOSPHERE = 101325.0  # Pa
VOLUME = 44.0095 / 22.263  # g/L in one volume, real gas
COLD = [273.15, 275.15, 277.15, 283.15, 293.15]  # K
PRESSURES = [101325.0, 150000.0, 170272.6, 250000.0, 377115.0]  # Pa absolute


def answer(id, system="us", **texts):
    outcome = reckon(calculators()[id], texts, system)
    assert not outcome.problems, outcome.problems
    return outcome


def refused(id, **texts):
    return [(name, problem.code) for name, problem in reckon(calculators()[id], texts, "us").problems]


def reference_carbonation(pressure, temperature):
    """g/L in water from PyCO2SYS's K0 and CoolProp's water and CO2, without a line of the code under test."""
    water = PropsSI("D", "T", max(temperature, 273.16), "P", pressure, "Water")
    gas = AbstractState("HEOS", "CO2")
    gas.update(PT_INPUTS, pressure, temperature)
    fugacity = gas.fugacity_coefficient(0)
    vapour = PropsSI("P", "T", max(temperature, 273.16), "Q", 0, "Water")
    moles = kCO2_W74(temperature, 0.0) * water / 1000.0 * (pressure - vapour) / ATMOSPHERE * fugacity
    return moles * 44.0095


@pytest.mark.parametrize("temperature", COLD)
def test_co2_in_water_is_the_oceanographers(temperature):
    # Source: Weiss (1974), mol/(kg atm), through PyCO2SYS at zero salinity; density of water by CoolProp.
    water = PropsSI("D", "T", max(temperature, 273.16), "P", ATMOSPHERE, "Water")
    expected = kCO2_W74(temperature, 0.0) * water / ATMOSPHERE
    assert co2_solubility(temperature) == pytest.approx(expected, rel=5e-4)


@pytest.mark.parametrize("temperature", COLD[1:])
def test_the_vapour_pressure_of_water_is_the_reference_equations(temperature):
    # Source: Wagner and Pruss (2002), IAPWS-95, through CoolProp.
    assert water_vapour_pressure(temperature) == pytest.approx(
        PropsSI("P", "T", temperature, "Q", 0, "Water"), rel=0.005
    )


@pytest.mark.parametrize("pressure", PRESSURES)
@pytest.mark.parametrize("temperature", COLD)
def test_vapour_and_real_gas_corrections_are_the_reference_equations(temperature, pressure):
    # Source: PyCO2SYS and CoolProp as above; the pressure correction, left out there, is below 0.4 % here.
    expected = reference_carbonation(pressure, temperature)
    assert co2_in_water(pressure, temperature) == pytest.approx(expected, rel=0.005)
    assert co2_in_water(pressure, temperature) <= expected * 1.001


@pytest.mark.parametrize(("temperature", "absorbed"), [(273.15, 1.713), (283.15, 1.194), (293.15, 0.878)])
def test_water_takes_up_what_the_handbook_tables_say(temperature, absorbed):
    # Source: absorption coefficient of CO2 in water, litres at 0 °C and 1 atm in a litre at 1 atm of CO2,
    # handbook tables (from memory); published sources differ by 2 to 4 %.
    wet = ATMOSPHERE + PropsSI("P", "T", max(temperature, 273.16), "Q", 0, "Water")
    assert co2_in_water(wet, temperature) / VOLUME == pytest.approx(absorbed, rel=0.02)


# Source: the trade's printed carbonation chart, temperature, gauge pressure, volumes (from memory), within 3
# %.
@pytest.mark.parametrize(
    ("temperature", "pressure", "volumes"),
    [("32 °F", "10 psi", 2.7), ("38 °F", "12 psi", 2.57), ("40 °F", "10 psi", 2.3)],
)
def test_carbonation_is_the_printed_charts(temperature, pressure, volumes):
    outcome = answer("equilibrium-carbonation", temperature=temperature, pressure=pressure)
    assert outcome.results["carbonation"].value / VOLUME == pytest.approx(volumes, rel=0.03)


def test_a_volume_of_co2_is_a_litre_of_gas_in_a_litre_of_beer():
    # Source: density of CO2 at 0 °C and 101.325 kPa, Span and Wagner (1996), through CoolProp.
    gas = PropsSI("D", "T", 273.15, "P", ATMOSPHERE, "CO2")
    assert units()["vol"].factor == pytest.approx(gas, rel=1e-4)


def test_volumes_and_grams_say_the_same():
    # Source: 1 volume = 44.0095 / 22.263 g/L.
    volumes, grams = (
        answer("hold-pressure", carbonation=text, temperature="2 °C").results["pressure"].value
        for text in ("2.5 vol", f"{2.5 * VOLUME:.9f} g/L")
    )
    assert grams == pytest.approx(volumes, rel=1e-6)


@pytest.mark.parametrize("pressure", [1.0, 10.0, 15.0, 30.0])
@pytest.mark.parametrize("celsius", [-1.0, 2.0, 12.0, 25.0])
def test_the_pressure_to_hold_gives_the_carbonation_back(celsius, pressure):
    # Source: the two sums are each other's inverse.
    drift = answer("equilibrium-carbonation", pressure=f"{pressure} psi", temperature=f"{celsius} °C")
    grams = drift.results["co2_content"].value
    hold = answer("hold-pressure", carbonation=f"{grams:.15g} g/L", temperature=f"{celsius} °C")
    assert hold.results["pressure"].value == pytest.approx(pressure * 6894.757293168361, rel=1e-9)


def test_the_give_or_take_carries_what_beer_is_against_water():
    # Source: GUM (JCGM 100:2008) 5.1.2: for a product, the relative ± of the factor is that of the result.
    exact = {"pressure": "10 ± 0 psi", "temperature": "2 ± 0 °C"}
    result = answer("equilibrium-carbonation", **exact).results["carbonation"]
    assert result.uncertainty / result.value == pytest.approx(0.02 / 0.955, rel=1e-6)
    water = answer("equilibrium-carbonation", **exact, beer_factor="1 ± 0").results["carbonation"]
    assert water.uncertainty is None
    assert result.value / water.value == pytest.approx(0.955, rel=1e-12)


def test_the_same_gauge_carbonates_less_up_a_mountain():
    # Source: Henry's law; ISO 2533 air pressure at 1,600 m, 83.528 kPa; ideal gas, so within half a percent.
    texts = {"pressure": "10 psi", "temperature": "2 °C"}
    low = answer("equilibrium-carbonation", **texts).results["carbonation"].value
    high = answer("equilibrium-carbonation", **texts, air_pressure="83.528 kPa").results["carbonation"].value
    gauge, vapour = 68947.57, 706.0
    assert high / low == pytest.approx((gauge + 83528.0 - vapour) / (gauge + ATMOSPHERE - vapour), rel=0.005)


def test_colder_beer_holds_more_at_one_pressure():
    # Source: CO2 dissolves better in colder water.
    held = [co2_in_water(170000.0, 272.15 + step) for step in range(31)]
    assert held == sorted(held, reverse=True)


def test_a_carbonation_that_would_take_vacuum_is_refused():
    # Source: at 2 °C water holds some 1.6 volumes at 1 atm (handbook tables, from memory), so half a volume
    # is vacuum.
    found = refused("hold-pressure", carbonation="0.5 vol", temperature="2 °C")
    assert found == [("carbonation", "below-outside")]


def test_a_carbonation_beyond_the_plate_is_refused():
    # Source: printed chart (from memory): 2.7 volumes at 32 °F needs 10 psi; at 60 °F it needs about 25 psi.
    texts = {"carbonation": "2.7 vol", "temperature": "60 °F"}
    assert refused("hold-pressure", **texts, rated_pressure="15 psi") == [("carbonation", "above-rated")]
    assert refused("hold-pressure", **texts, rated_pressure="40 psi") == []
    assert answer("hold-pressure", **texts).remarks == ["rated-unknown", "warmer-than-the-charts"]


SETTLING = {
    "headspace": "3 bbl", "beer_volume": "15 bbl", "carbonation_now": "2.2 vol", "pressure_after": "10 psi",
    "temperature": "2 °C",
}


def settled(**texts):
    return answer("pressure-settling", **{**SETTLING, **texts})


def test_a_topped_up_tank_settles_where_a_mass_balance_of_reference_libraries_does():
    # Source: closed mass balance; density of CO2 by CoolProp, solubility by PyCO2SYS, times 0.955.
    start = 68947.57 + ATMOSPHERE

    def density(pressure):
        return PropsSI("D", "T", 275.15, "P", pressure, "CO2")

    def surplus(pressure):
        taken = 15.0 * (0.955 * reference_carbonation(pressure, 275.15) - 2.2 * VOLUME)
        return taken - 3.0 * (density(start) - density(pressure))

    expected = brentq(surplus, 50000.0, 400000.0)
    outcome = settled().results["settled_pressure"].value + ATMOSPHERE
    assert outcome == pytest.approx(expected, rel=0.003)


@pytest.mark.parametrize("carbonation", ["0 vol", "1.5 vol", "2.2 vol", "3 vol"])
def test_no_co2_comes_or_goes_while_it_settles(carbonation):
    # Source: closed mass balance: what the beer takes up is its volume times the rise of its carbonation.
    results = settled(carbonation_now=carbonation).results
    beer = 15.0 * units()["bbl"].factor
    rise = results["settled_carbonation"].value - float(carbonation.split()[0]) * VOLUME
    assert results["co2_taken_up"].value == pytest.approx(beer * rise, rel=1e-6)


def test_without_beer_the_gauge_does_not_sag():
    # Source: closed mass balance, limit of no beer.
    assert settled_pressure(1.0, 0.0, 0.0, 170000.0, 275.15, 0.955) == pytest.approx(170000.0, rel=1e-9)


def test_beer_already_at_equilibrium_does_not_sag():
    # Source: closed mass balance, nothing to take up.
    held = co2_in_beer(170000.0, 275.15, 0.955)
    assert settled_pressure(0.5, 2.0, held, 170000.0, 275.15, 0.955) == pytest.approx(170000.0, rel=1e-9)


def test_over_much_beer_the_pressure_is_the_beers():
    # Source: closed mass balance, limit of a headspace that is nothing beside the beer.
    held = co2_in_beer(150000.0, 275.15, 0.955)
    assert settled_pressure(1e-6, 10.0, held, 170000.0, 275.15, 0.955) == pytest.approx(150000.0, rel=1e-5)


def test_flat_cold_beer_can_pull_vacuum_and_the_sum_says_so():
    # Source: common practice, no source: a shut tank of flat cold beer goes below the outside pressure.
    outcome = settled(carbonation_now="0.5 vol")
    assert outcome.results["settled_pressure"].value < 0.0
    assert "below-outside" in outcome.remarks


def test_beer_with_more_than_the_pressure_keeps_gives_it_off():
    # Source: printed chart (from memory): 10 psi at 36 °F keeps about 2.5 volumes.
    outcome = settled(carbonation_now="3 vol")
    assert outcome.results["settled_pressure"].value > 68947.57
    assert outcome.results["co2_taken_up"].value < 0.0
    assert "gives-off" in outcome.remarks
