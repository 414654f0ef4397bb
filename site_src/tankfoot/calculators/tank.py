"""A tank's shape: what it holds, where its beer stands, and the gas above it."""

from tankfoot.calculators.readings import GAS_TEMPERATURE, RATED_PRESSURE, USUAL_BORE
from tankfoot.physics.vessel import (
    cone_angle,
    cone_height,
    cone_volume,
    cross_section,
    head_volume,
    level_at_volume,
    straight_volume,
    volume_at_level,
)
from tankfoot.quantities.field import Form, Quantity

RESULTS = {
    "headspace": "tank_volume",
    "beer_volume": "tank_volume",
    "beer_level": "head",
    "total_volume": "tank_volume",
    "diameter": "length",
    "straight_height": "length",
    "cone_height": "length",
    "cone_angle": "angle",
    "cone_volume": "tank_volume",
    "arm_volume": "tank_volume",
}
MORE = (
    "circumference", "total_volume", "cone_height", "beer_level", "pressure", "hold_pressure",
    "rated_pressure", "floor_pressure", "arm_height", "head_volume", "purge_every",
)
CAUTIONS = {"rated-pressure": "WARNING", "bare-wall": "NOTICE"}

# Two ways to say one thing: exactly one of each pair is given. The first is where a missing one is asked for.
ALTERNATIVES = (
    ("diameter", "circumference", "no-width", "two-widths"),
    ("straight_height", "total_volume", "no-height", "two-heights"),
    ("cone_angle", "cone_height", "no-cone", "two-cones"),
    ("beer_volume", "beer_level", "no-beer", "two-beers"),
)
PI = 3.141592653589793


class Inputs(Form):
    diameter = Quantity(
        "length", low="20 cm", high="800 cm", uncertainty="1 %", optional=True,
        example={"us": "60 in", "metric": "150 cm", "uk": "150 cm"},
    )
    circumference = Quantity("length", low="60 cm", high="2600 cm", uncertainty="0.5 %", optional=True)
    straight_height = Quantity(
        "length", low="10 cm", high="2000 cm", uncertainty="1 %", optional=True,
        example={"us": "72 in", "metric": "180 cm", "uk": "120 cm"},
    )
    total_volume = Quantity("tank_volume", low="10 L", high="6000 hL", uncertainty="2 %", optional=True)
    cone_angle = Quantity("angle", low="20 °", high="150 °", uncertainty="2 °", optional=True, example="70 °")
    cone_height = Quantity("length", low="5 cm", high="1500 cm", uncertainty="2 cm", optional=True)
    beer_volume = Quantity(
        "tank_volume", low="0 bbl", high="4000 bbl", uncertainty="2 %", optional=True,
        example={"us": "25 bbl", "metric": "30 hL", "uk": "12 imp bbl"},
    )
    beer_level = Quantity("head", low="0 m", high="30 m", uncertainty="5 cm", optional=True)
    pressure = Quantity("gauge_pressure", low="0 psi", high="150 psi", optional=True)
    hold_pressure = Quantity(
        "gauge_pressure", low="0 psi", high="150 psi", optional=True,
        example={"us": "10 psi", "metric": "0.7 bar", "uk": "0.7 bar"},
    )
    rated_pressure = RATED_PRESSURE
    floor_pressure = Quantity("gauge_pressure", low="0 psi", high="150 psi", optional=True)
    arm_height = Quantity("length", low="0 cm", high="2000 cm", optional=True)
    head_volume = Quantity("tank_volume", low="0 L", high="2000 hL", optional=True)
    purge_every = Quantity("clock_time", low="1 h", high="90 day", optional=True)
    head_depth = Quantity(
        "length", low="0 cm", high="400 cm", default={"us": "0 in", "metric": "0 cm", "uk": "0 cm"},
    )
    bore = USUAL_BORE
    temperature = GAS_TEMPERATURE


def refusals(x):
    """What is missing or doubled comes first: nothing can be said of the shape before it is given."""
    unsettled = list(_unsettled(x))
    yield from unsettled or _impossible_shape(x)
    yield from _impossible_pressures(x)


def _unsettled(x):
    for first, second, missing, doubled in ALTERNATIVES:
        given = (getattr(x, first) is not None) + (getattr(x, second) is not None)
        if given != 1:
            yield (first, missing) if given == 0 else (second, doubled)


def _impossible_shape(x):
    shape = _shape(x)
    top = shape["cone"] + shape["straight"]
    if shape["straight"] <= 0.0:
        yield "total_volume", "cone-takes-all"
    elif shape["depth"] > 0.5 * shape["diameter"]:
        yield "head_depth", "head-too-deep"
    else:
        if x.arm_height is not None and x.arm_height > top:
            yield "arm_height", "arm-outside"
        if x.beer_level is not None and x.beer_level > top:
            yield "beer_level", "above-straight-side"
        if x.beer_volume is not None and x.beer_volume > _up_to_head(shape):
            yield "beer_volume", "above-straight-side"


def _impossible_pressures(x):
    if x.rated_pressure is not None and x.hold_pressure is not None and x.hold_pressure > x.rated_pressure:
        yield "hold_pressure", "hold-above-rated"
    if x.hold_pressure is not None and x.floor_pressure is not None and x.floor_pressure > x.hold_pressure:
        yield "floor_pressure", "floor-above-hold"


def _shape(x):
    """The tank's lengths (m), its head's volume and its total volume (m3)."""
    diameter = x.circumference / PI if x.diameter is None else x.diameter
    cone = cone_height(diameter, x.cone_angle) if x.cone_height is None else x.cone_height
    head = head_volume(diameter, x.head_depth) if x.head_volume is None else x.head_volume
    straight = x.straight_height
    if straight is None:
        straight = (x.total_volume - head - cone_volume(diameter, cone)) / cross_section(diameter)
    return {"diameter": diameter, "cone": cone, "straight": straight, "depth": x.head_depth, "head": head}


def _up_to_head(shape):
    return straight_volume(shape["diameter"], shape["cone"], shape["straight"])


def compute(x):
    shape = _shape(x)
    lengths = (shape["diameter"], shape["cone"], shape["straight"])
    if x.beer_volume is None:
        volume, level = volume_at_level(x.beer_level, *lengths), x.beer_level
    else:
        volume, level = x.beer_volume, level_at_volume(x.beer_volume, *lengths)
    total = _up_to_head(shape) + shape["head"]
    return {
        "headspace": total - volume,
        "beer_volume": volume,
        "beer_level": level,
        "total_volume": total,
        "diameter": shape["diameter"],
        "straight_height": shape["straight"],
        "cone_height": shape["cone"],
        "cone_angle": cone_angle(shape["diameter"], shape["cone"]),
        "cone_volume": cone_volume(shape["diameter"], shape["cone"]),
        "arm_volume": None if x.arm_height is None else volume_at_level(x.arm_height, *lengths),
    }


def remarks(x, y):
    if x.pressure is not None and x.rated_pressure is not None and x.pressure > x.rated_pressure:
        yield "above-rated"
    if x.pressure is not None and x.floor_pressure is not None and x.pressure < x.floor_pressure:
        yield "below-floor"
    if y["arm_volume"] is not None and y["arm_volume"] > y["beer_volume"]:
        yield "arm-above-beer"
