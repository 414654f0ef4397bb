"""The usual air pressure at the brewery, from its height above the sea."""

from tankfoot.physics.atmosphere import standard_air_pressure
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"air_pressure": "absolute_pressure"}
CAUTIONS = {}


class Inputs(Form):
    altitude = Quantity(
        "altitude", low="-430 m", high="4000 m", uncertainty="20 m",
        example={"us": "800 ft", "metric": "250 m", "uk": "250 m"},
    )


def refusals(x):
    return ()


def compute(x):
    return {"air_pressure": standard_air_pressure(x.altitude)}


def remarks(x, y):
    return ()
