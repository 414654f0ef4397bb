"""What left a closed tank, from the drop of its pressure."""

from tankfoot.calculators.readings import AIR_PRESSURE, BEER_VALUE, GAS_TEMPERATURE, HEADSPACE, gauge
from tankfoot.physics.gas import co2_density
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"volume_lost": "tank_volume", "share_of_beer": "share", "money_lost": "money"}
MORE = ("beer_volume", "beer_value")
CAUTIONS = {"gas-shut": "NOTICE", "vacuum": "WARNING"}


class Inputs(Form):
    headspace = HEADSPACE
    pressure_before = gauge("10 psi", "0.7 bar")
    pressure_after = gauge("8 psi", "0.55 bar")
    temperature = GAS_TEMPERATURE
    air_pressure = AIR_PRESSURE
    beer_volume = Quantity(
        "tank_volume", low="0.01 bbl", high="4000 bbl", optional=True,
        example={"us": "15 bbl", "metric": "17 hL", "uk": "10 imp bbl"},
    )
    beer_value = BEER_VALUE


def refusals(x):
    if x.pressure_after >= x.pressure_before:
        yield "pressure_after", "no-drop"


def compute(x):
    before = co2_density(x.pressure_before + x.air_pressure, x.temperature)
    after = co2_density(x.pressure_after + x.air_pressure, x.temperature)
    lost = x.headspace * (before / after - 1.0)
    return {
        "volume_lost": lost,
        "share_of_beer": None if x.beer_volume is None else lost / x.beer_volume,
        "money_lost": None if x.beer_value is None else lost * x.beer_value,
    }


def remarks(x, y):
    if x.beer_volume is not None and y["volume_lost"] > x.beer_volume:
        yield "more-than-there-was"
