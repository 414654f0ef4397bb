"""Why a fermenting tank with its blow-off in a bucket is not drawn fast: the yeast's gas against the draw."""

from tankfoot.calculators.readings import AIR_PRESSURE
from tankfoot.physics.fermentation import WATER_DENSITY, co2_made, co2_volume_flow, lift_pressure, time_to_lift
from tankfoot.physics.yeast import plato_per_gravity
from tankfoot.quantities.field import Form, Quantity

RESULTS = {
    "keeps_up_with": "beer_flow",
    "missing": "beer_flow",
    "time_to_top": "duration",
    "lift_pressure": "gauge_pressure",
    "gas_made": "gas_flow",
}
MORE = ("gravity_fall",)
CAUTIONS = {"rising-liquid": "WARNING", "keep-open": "WARNING", "less-gas": "WARNING", "asphyxiation": "WARNING"}


class Inputs(Form):
    beer_volume = Quantity(
        "tank_volume", low="0.01 bbl", high="4000 bbl", uncertainty="2 %",
        example={"us": "25 bbl", "metric": "30 hL", "uk": "18 imp bbl"},
    )
    extract_fall = Quantity(
        "extract_fall", low="0 °P/day", high="15 °P/day", uncertainty="0.3 °P/day", optional=True, example="3 °P/day",
    )
    draw_flow = Quantity(
        "beer_flow", low="0.01 L/min", high="5000 L/min", uncertainty="10 %", optional=True,
        example={"us": "15 gal/min", "metric": "60 L/min", "uk": "60 L/min"},
    )
    pipe_rise = Quantity(
        "head", low="1 cm", high="20 m", uncertainty="5 cm", example={"us": "20 in", "metric": "50 cm", "uk": "50 cm"},
    )
    headspace = Quantity(
        "tank_volume", low="0.01 bbl", high="2000 bbl", uncertainty="5 %", optional=True,
        example={"us": "3 bbl", "metric": "3.5 hL", "uk": "2 imp bbl"},
    )
    gravity_fall = Quantity(
        "gravity_fall", low="0 points/day", high="60 points/day", uncertainty="1 points/day", optional=True,
    )
    specific_gravity = Quantity(
        "gravity", low="0.988 SG", high="1.155 SG", uncertainty="0.02 SG", default="1.030 SG",
    )
    temperature = Quantity(
        "temperature", low="-1 °C", high="35 °C", uncertainty="1 °C",
        default={"us": "68 °F", "metric": "20 °C", "uk": "20 °C"},
    )
    air_pressure = AIR_PRESSURE


def refusals(x):
    if x.extract_fall is None and x.gravity_fall is None:
        yield "extract_fall", "no-fall"
    if x.extract_fall is not None and x.gravity_fall is not None:
        yield "gravity_fall", "two-falls"


def compute(x):
    fall = plato_per_gravity(x.specific_gravity) * x.gravity_fall if x.extract_fall is None else x.extract_fall
    made = co2_made(x.beer_volume, x.specific_gravity, fall)
    gas = co2_volume_flow(made, x.air_pressure, x.temperature)
    lift = lift_pressure(x.pipe_rise, WATER_DENSITY)
    timed = x.draw_flow is not None and x.headspace is not None
    return {
        "keeps_up_with": gas,
        "missing": None if x.draw_flow is None else x.draw_flow - gas,
        "time_to_top": time_to_lift(x.headspace, x.draw_flow, gas, x.air_pressure, lift) if timed else None,
        "lift_pressure": lift,
        "gas_made": made,
    }


def remarks(x, y):
    if y["missing"] is None:
        return
    if y["missing"] <= 0.0:
        yield "watch-the-bubbles"
        return
    yield "too-fast"
    if x.headspace is not None and y["time_to_top"] is None:
        yield "not-to-the-top"
