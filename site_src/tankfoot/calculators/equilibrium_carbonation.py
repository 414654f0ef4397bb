"""Where the carbonation of beer drifts to while the tank is held at a pressure."""

from tankfoot.calculators.plot import Plot
from tankfoot.calculators.readings import AIR_PRESSURE, BEER_FACTOR, BEER_TEMPERATURE, gauge
from tankfoot.physics.solubility import WARMEST_ON_CHARTS, co2_in_beer
from tankfoot.quantities.field import Form

RESULTS = {"carbonation": "carbonation_volumes", "co2_content": "carbonation_mass"}
CAUTIONS = {"slow": "NOTICE", "beer-not-water": "NOTICE"}
PLOT = Plot("pressure", "carbonation", {"pressure": 1.5}, at_least=1e5, at_most=275791.0)


class Inputs(Form):
    pressure = gauge("10 psi", "0.7 bar")
    temperature = BEER_TEMPERATURE
    air_pressure = AIR_PRESSURE
    beer_factor = BEER_FACTOR


def refusals(x):
    return ()


def compute(x):
    carbonation = co2_in_beer(x.pressure + x.air_pressure, x.temperature, x.beer_factor)
    return {"carbonation": carbonation, "co2_content": carbonation}


def remarks(x, y):
    if x.temperature > WARMEST_ON_CHARTS:
        yield "warmer-than-the-charts"
