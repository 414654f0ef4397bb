"""How much sanitizer a port takes, sprayed or flushed."""

import math

from tankfoot.calculators.readings import ASKED_BORE
from tankfoot.physics.outflow import bore_area
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"flush_volume": "dose_volume", "spray_volume": "dose_volume"}
CAUTIONS = {"flammable": "WARNING", "stays-wet": "NOTICE"}
RUNS_OFF = 5e-4  # m: thicker films of a thin liquid run off a wall; common practice, no source


class Inputs(Form):
    bore = ASKED_BORE
    length = Quantity(
        "length", low="1 mm", high="5 m", uncertainty="5 mm",
        example={"us": "6 in", "metric": "15 cm", "uk": "15 cm"},
    )
    rounds = Quantity("count", low="1", high="100", default="2")
    film = Quantity("film", low="0.01 mm", high="5 mm", uncertainty="0.05 mm", default="0.1 mm")
    landing_share = Quantity("share", low="5 %", high="100 %", default="50 %")


def refusals(x):
    return ()


def compute(x):
    wall = math.pi * x.bore * x.length
    return {
        "flush_volume": x.rounds * bore_area(x.bore) * x.length,
        "spray_volume": x.rounds * wall * x.film / x.landing_share,
    }


def remarks(x, y):
    if x.film > RUNS_OFF:
        yield "runs-off"
