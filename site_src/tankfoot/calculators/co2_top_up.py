"""How much CO2 brings a headspace back up to its pressure."""

from tankfoot.physics.gas import co2_density, co2_normal_density
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"co2_mass": "gas_mass", "co2_volume": "gas_volume", "top_ups_per_cylinder": "count"}
MORE = ("cylinder_mass",)
CAUTIONS = {"rated-pressure": "WARNING", "asphyxiation": "DANGER", "beer-takes-some": "NOTICE"}
SOURCES = (
    "R. F. Weiss, Marine Chemistry 2 (1974) 203-215, equation 6: second virial coefficient of CO2",
    "JCGM 100:2008 (GUM), 5.1.2: propagation of uncertainty",
)


class Inputs(Form):
    headspace = Quantity(
        "tank_volume", low="0.01 bbl", high="2000 bbl", uncertainty="5 %",
        example={"us": "3 bbl", "metric": "3.5 hL", "uk": "2 imp bbl"},
    )
    pressure_before = Quantity(
        "gauge_pressure", low="0 psi", high="40 psi", uncertainty="0.5 psi",
        example={"us": "8 psi", "metric": "0.55 bar", "uk": "0.55 bar"},
    )
    pressure_after = Quantity(
        "gauge_pressure", low="0 psi", high="40 psi", uncertainty="0.5 psi",
        example={"us": "10 psi", "metric": "0.7 bar", "uk": "0.7 bar"},
    )
    rated_pressure = Quantity(
        "gauge_pressure", low="0 psi", high="150 psi", optional=True,
        example={"us": "15 psi", "metric": "1 bar", "uk": "1 bar"},
    )
    temperature = Quantity(
        "temperature", low="-2 °C", high="30 °C", uncertainty="1 °C",
        default={"us": "35.6 °F", "metric": "2 °C", "uk": "2 °C"},
    )
    air_pressure = Quantity("absolute_pressure", low="60 kPa", high="110 kPa", default="101.325 kPa")
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
