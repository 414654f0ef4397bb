"""Readings that several sums ask for, declared once."""

from tankfoot.quantities.field import Quantity

AIR_PRESSURE = Quantity("absolute_pressure", low="60 kPa", high="110 kPa", default="101.325 kPa")
HEADSPACE = Quantity(
    "tank_volume", low="0.01 bbl", high="2000 bbl", uncertainty="5 %",
    example={"us": "3 bbl", "metric": "3.5 hL", "uk": "2 imp bbl"},
)
GAS_TEMPERATURE = Quantity(
    "temperature", low="-2 °C", high="30 °C", uncertainty="1 °C",
    default={"us": "35.6 °F", "metric": "2 °C", "uk": "2 °C"},
)
BEER_TEMPERATURE = Quantity(
    "temperature", low="-1 °C", high="30 °C", uncertainty="0.5 °C",
    example={"us": "35.6 °F", "metric": "2 °C", "uk": "2 °C"},
)
CELLAR_TEMPERATURE = Quantity(
    "temperature", low="-2 °C", high="40 °C", default={"us": "50 °F", "metric": "10 °C", "uk": "10 °C"},
)
BEER_FACTOR = Quantity("ratio", low="0.85", high="1.05", default="0.955", uncertainty="0.02")
BEER_VALUE = Quantity(
    "beer_value", low="0 $/bbl", high="100000 $/bbl", optional=True,
    example={"us": "150 $/bbl", "metric": "130 $/hL", "uk": "200 $/imp bbl"},
)
RATED_PRESSURE = Quantity(
    "gauge_pressure", low="0 psi", high="150 psi", optional=True,
    example={"us": "15 psi", "metric": "1 bar", "uk": "1 bar"},
)
PORT_PRESSURE = Quantity(
    "gauge_pressure", low="0 psi", high="60 psi", uncertainty="0.5 psi",
    example={"us": "10 psi", "metric": "0.7 bar", "uk": "0.7 bar"},
)
LIQUID_HEAD = Quantity(
    "head", low="0 m", high="30 m", uncertainty="0.1 m", example={"us": "6 ft", "metric": "2 m", "uk": "2 m"},
)
SMALL_PORT = {"us": "1.37 in", "metric": "34.8 mm", "uk": "34.8 mm"}
USUAL_BORE = Quantity("bore", low="5 mm", high="300 mm", default=SMALL_PORT)
ASKED_BORE = Quantity("bore", low="5 mm", high="300 mm", example=SMALL_PORT)
BEER_DENSITY = Quantity("density", low="900 kg/m³", high="1200 kg/m³", default="1.01 g/mL")


def gauge(us, metric, uncertainty="0.5 psi"):
    """A reading of the tank's gauge, with the page's examples."""
    examples = {"us": us, "metric": metric, "uk": metric}
    return Quantity("gauge_pressure", low="0 psi", high="40 psi", uncertainty=uncertainty, example=examples)
