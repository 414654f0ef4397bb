"""What pressure to hold on the tank for a wanted carbonation."""

from tankfoot.calculators.plot import Plot
from tankfoot.calculators.readings import AIR_PRESSURE, BEER_FACTOR, BEER_TEMPERATURE, RATED_PRESSURE
from tankfoot.physics.solubility import WARMEST_ON_CHARTS, co2_in_beer, holding_pressure
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"pressure": "gauge_pressure"}
CAUTIONS = {"rated-pressure": "WARNING", "slow": "NOTICE", "beer-not-water": "NOTICE"}
PLOT = Plot(
    "pressure", "carbonation", {"pressure": 1.5, "rated_pressure": 1.1}, at_least=1e5, at_most=525000.0,
    marks=(("rated", "across", "rated_pressure"),),
)
HIGHEST = 600000.0  # Pa absolute: beyond brewery tanks, within the reach of the second virial coefficient


class Inputs(Form):
    carbonation = Quantity(
        "carbonation", low="0.1 vol", high="6 vol", uncertainty="0.05 vol",
        example={"us": "2.5 vol", "metric": "5 g/L", "uk": "2.2 vol"},
    )
    temperature = BEER_TEMPERATURE
    rated_pressure = RATED_PRESSURE
    air_pressure = AIR_PRESSURE
    beer_factor = BEER_FACTOR


def refusals(x):
    def held(pressure):
        return co2_in_beer(pressure, x.temperature, x.beer_factor)

    if x.carbonation < held(x.air_pressure):
        yield "carbonation", "below-outside"
    elif x.carbonation > held(HIGHEST):
        yield "carbonation", "beyond-the-formula"
    elif x.rated_pressure is not None and x.carbonation > held(x.rated_pressure + x.air_pressure):
        yield "carbonation", "above-rated"


def compute(x):
    return {"pressure": holding_pressure(x.carbonation, x.temperature, x.beer_factor) - x.air_pressure}


def curve(x, at):
    return co2_in_beer(at + x.air_pressure, x.temperature, x.beer_factor)


def remarks(x, y):
    if x.rated_pressure is None:
        yield "rated-unknown"
    if x.temperature > WARMEST_ON_CHARTS:
        yield "warmer-than-the-charts"
