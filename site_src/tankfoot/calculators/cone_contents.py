"""Solids in the cone: depth to volume or back, and what clears the racking arm."""

from tankfoot.physics.cone import solids_depth, solids_volume
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"volume": "tank_volume", "depth": "length", "to_clear_arm": "tank_volume"}
MORE = ("volume", "tank_diameter")
CAUTIONS = {"no-entry": "DANGER", "funnel": "NOTICE"}


class Inputs(Form):
    cone_angle = Quantity("angle", low="20 °", high="150 °", uncertainty="1 °", example="60 °")
    bore = Quantity(
        "bore", low="0 mm", high="300 mm", default={"us": "1.37 in", "metric": "34.8 mm", "uk": "34.8 mm"},
    )
    depth = Quantity(
        "length", low="1 mm", high="20 m", uncertainty="2 cm", optional=True,
        example={"us": "18 in", "metric": "45 cm", "uk": "45 cm"},
    )
    volume = Quantity("tank_volume", low="0.001 bbl", high="4000 bbl", uncertainty="5 %", optional=True)
    tank_diameter = Quantity(
        "length", low="10 cm", high="15 m", optional=True,
        example={"us": "48 in", "metric": "120 cm", "uk": "120 cm"},
    )
    arm_height = Quantity(
        "length", low="0 mm", high="20 m", uncertainty="1 cm", optional=True,
        example={"us": "14 in", "metric": "35 cm", "uk": "35 cm"},
    )


def refusals(x):
    if x.depth is None and x.volume is None:
        yield "depth", "nothing-measured"
    if x.depth is not None and x.volume is not None:
        yield "volume", "both-measured"
    if x.tank_diameter is not None and x.tank_diameter <= x.bore:
        yield "tank_diameter", "narrower-than-outlet"


def compute(x):
    shape = (x.bore, x.cone_angle, x.tank_diameter)
    depth = solids_depth(x.volume, *shape) if x.depth is None else x.depth
    volume = solids_volume(x.depth, *shape) if x.volume is None else x.volume
    over_arm = None if x.arm_height is None else max(0.0, volume - solids_volume(x.arm_height, *shape))
    return {"volume": volume, "depth": depth, "to_clear_arm": over_arm}


def remarks(x, y):
    if x.arm_height is not None:
        yield "arm-in-solids" if y["to_clear_arm"] > 0.0 else "arm-above-solids"
    if x.tank_diameter is None:
        yield "cone-only"
