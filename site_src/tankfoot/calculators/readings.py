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
BEER_FACTOR = Quantity("ratio", low="0.85", high="1.05", default="0.955", uncertainty="0.02")
BEER_VALUE = Quantity(
    "beer_value", low="0 $/bbl", high="100000 $/bbl", optional=True,
    example={"us": "150 $/bbl", "metric": "130 $/hL", "uk": "200 $/imp bbl"},
)
RATED_PRESSURE = Quantity(
    "gauge_pressure", low="0 psi", high="150 psi", optional=True,
    example={"us": "15 psi", "metric": "1 bar", "uk": "1 bar"},
)


def gauge(us, metric):
    """A reading of the tank's gauge, with the page's examples."""
    examples = {"us": us, "metric": metric, "uk": metric}
    return Quantity("gauge_pressure", low="0 psi", high="40 psi", uncertainty="0.5 psi", example=examples)
