"""What left a closed tank, from the drop of its pressure."""

from tankfoot.physics.gas import co2_density
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"volume_lost": "tank_volume", "share_of_beer": "share", "money_lost": "money"}
MORE = ("beer_volume", "beer_value")
CAUTIONS = {"gas-shut": "NOTICE", "vacuum": "DANGER"}
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
        example={"us": "10 psi", "metric": "0.7 bar", "uk": "0.7 bar"},
    )
    pressure_after = Quantity(
        "gauge_pressure", low="0 psi", high="40 psi", uncertainty="0.5 psi",
        example={"us": "8 psi", "metric": "0.55 bar", "uk": "0.55 bar"},
    )
    temperature = Quantity(
        "temperature", low="-2 °C", high="30 °C", uncertainty="1 °C",
        default={"us": "35.6 °F", "metric": "2 °C", "uk": "2 °C"},
    )
    air_pressure = Quantity("absolute_pressure", low="60 kPa", high="110 kPa", default="101.325 kPa")
    beer_volume = Quantity(
        "tank_volume", low="0.01 bbl", high="4000 bbl", optional=True,
        example={"us": "15 bbl", "metric": "17 hL", "uk": "10 imp bbl"},
    )
    beer_value = Quantity(
        "beer_value", low="0 $/bbl", high="100000 $/bbl", optional=True,
        example={"us": "150 $/bbl", "metric": "130 $/hL", "uk": "200 $/imp bbl"},
    )


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
