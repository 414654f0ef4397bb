"""Why the gauge of a topped-up tank sags, and where it comes to rest."""

from tankfoot.calculators.plot import Plot
from tankfoot.calculators.readings import AIR_PRESSURE, BEER_FACTOR, BEER_TEMPERATURE, HEADSPACE, gauge
from tankfoot.physics.gas import co2_density
from tankfoot.physics.headspace import settled_pressure
from tankfoot.physics.solubility import WARMEST_ON_CHARTS, co2_in_beer
from tankfoot.quantities.field import Form, Quantity

RESULTS = {
    "settled_pressure": "gauge_pressure",
    "settled_carbonation": "carbonation",
    "co2_taken_up": "gas_mass",
}
CAUTIONS = {"vacuum": "WARNING", "climbs": "WARNING", "slow": "NOTICE", "beer-not-water": "NOTICE"}
PLOT = Plot(
    "pressure_after", "settled_pressure", {"pressure_after": 1.5}, at_least=1e5, at_most=275791.0,
    marks=(("even", "even", None),),
)
HIGHEST_FOR_GAS = 400000.0  # Pa absolute, as far as the density of the gas is held to 0.05 %


class Inputs(Form):
    headspace = HEADSPACE
    beer_volume = Quantity(
        "tank_volume", low="0.01 bbl", high="4000 bbl", uncertainty="2 %",
        example={"us": "15 bbl", "metric": "17 hL", "uk": "10 imp bbl"},
    )
    carbonation_now = Quantity(
        "carbonation", low="0 vol", high="5 vol", uncertainty="0.05 vol",
        example={"us": "2.2 vol", "metric": "4.3 g/L", "uk": "2.2 vol"},
    )
    pressure_after = gauge("10 psi", "0.7 bar")
    temperature = BEER_TEMPERATURE
    air_pressure = AIR_PRESSURE
    beer_factor = BEER_FACTOR


def refusals(x):
    return ()


def compute(x):
    before = x.pressure_after + x.air_pressure
    after = settled_pressure(
        x.headspace, x.beer_volume, x.carbonation_now, before, x.temperature, x.beer_factor
    )
    given = co2_density(before, x.temperature) - co2_density(after, x.temperature)
    return {
        "settled_pressure": after - x.air_pressure,
        "settled_carbonation": co2_in_beer(after, x.temperature, x.beer_factor),
        "co2_taken_up": x.headspace * given,
    }


def remarks(x, y):
    if y["settled_pressure"] < 0.0:
        yield "below-outside"
    elif y["co2_taken_up"] < 0.0:
        yield "gives-off"
    if y["settled_pressure"] + x.air_pressure > HIGHEST_FOR_GAS:
        yield "beyond-the-gas-formula"
    if x.temperature > WARMEST_ON_CHARTS:
        yield "warmer-than-the-charts"
