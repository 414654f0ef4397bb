"""How much CO2 brings a headspace back up to its pressure."""

from tankfoot.calculators.readings import AIR_PRESSURE, GAS_TEMPERATURE, HEADSPACE, RATED_PRESSURE, gauge
from tankfoot.physics.gas import co2_density, co2_normal_density
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"co2_mass": "gas_mass", "co2_volume": "gas_volume", "top_ups_per_cylinder": "count"}
MORE = ("cylinder_mass",)
CAUTIONS = {"rated-pressure": "WARNING", "asphyxiation": "WARNING", "beer-takes-some": "NOTICE"}


class Inputs(Form):
    headspace = HEADSPACE
    pressure_before = gauge("8 psi", "0.55 bar")
    pressure_after = gauge("10 psi", "0.7 bar")
    rated_pressure = RATED_PRESSURE
    temperature = GAS_TEMPERATURE
    air_pressure = AIR_PRESSURE
    cylinder_mass = Quantity(
        "gas_mass", low="0.1 kg", high="100000 kg", optional=True,
        example={"us": "50 lb", "metric": "30 kg", "uk": "30 kg"},
    )


def refusals(x):
    if x.rated_pressure is not None and x.pressure_after > x.rated_pressure:
        yield "pressure_after", "above-rated"
    elif x.pressure_after <= x.pressure_before:
        yield "pressure_after", "no-rise"


def compute(x):
    before = co2_density(x.pressure_before + x.air_pressure, x.temperature)
    after = co2_density(x.pressure_after + x.air_pressure, x.temperature)
    mass = x.headspace * (after - before)
    return {
        "co2_mass": mass,
        "co2_volume": mass / co2_normal_density(),
        "top_ups_per_cylinder": None if x.cylinder_mass is None else x.cylinder_mass / mass,
    }


def remarks(x, y):
    if x.rated_pressure is None:
        yield "rated-unknown"
