"""How much may leave with the gas shut before the tank is down to the pressure outside."""

from tankfoot.calculators.plot import Plot
from tankfoot.calculators.readings import AIR_PRESSURE, GAS_TEMPERATURE, HEADSPACE, gauge
from tankfoot.physics.gas import co2_density
from tankfoot.physics.headspace import draw_volume, pressure_at_density
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"draw_to_zero": "tank_volume", "time_to_zero": "duration", "makeup_mass_flow": "gas_flow"}
CAUTIONS = {"collapse": "WARNING", "hot-then-cold": "WARNING"}
PLOT = Plot("draw_to_zero", "pressure_before", {"draw_to_zero": 1.0})


class Inputs(Form):
    headspace = HEADSPACE
    pressure_before = gauge("10 psi", "0.7 bar")
    draw_flow = Quantity(
        "beer_flow", low="0.01 L/min", high="5000 L/min", uncertainty="10 %", optional=True,
        example={"us": "15 gal/min", "metric": "60 L/min", "uk": "60 L/min"},
    )
    temperature = GAS_TEMPERATURE
    air_pressure = AIR_PRESSURE


def refusals(x):
    if x.pressure_before <= 0.0:
        yield "pressure_before", "no-margin"


def compute(x):
    pressure = x.pressure_before + x.air_pressure
    draw = draw_volume(x.headspace, pressure, x.air_pressure, x.temperature)
    flow = x.draw_flow
    return {
        "draw_to_zero": draw,
        "time_to_zero": None if flow is None else draw / flow,
        "makeup_mass_flow": None if flow is None else flow * co2_density(pressure, x.temperature),
    }


def curve(x, at):
    density = co2_density(x.pressure_before + x.air_pressure, x.temperature)
    return pressure_at_density(density * x.headspace / (x.headspace + at), x.temperature) - x.air_pressure


def remarks(x, y):
    if y["time_to_zero"] is not None and y["time_to_zero"] < 60.0:
        yield "under-a-minute"
