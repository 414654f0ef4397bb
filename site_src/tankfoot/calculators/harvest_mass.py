"""How much yeast to keep for the next batch before the rest is purged."""

from tankfoot.physics.yeast import cells_to_pitch, plato_from_gravity, slurry_volume
from tankfoot.quantities.field import Form, Quantity

RESULTS = {
    "slurry_mass": "liquid_mass",
    "slurry_volume": "bucket_volume",
    "cells": "count",
    "share_of_cone": "share",
}
MORE = ("specific_gravity", "cells_by_mass")
CAUTIONS = {"closed-vessel": "WARNING", "cold-and-soon": "NOTICE"}
USUAL_SLURRY = (3e14, 3e15)  # cells per m3: 0.3 to 3 billion a mL; common practice, no source
LEAST_VIABILITY = 0.9  # common practice, no source


class Inputs(Form):
    batch_volume = Quantity(
        "tank_volume", low="1 L", high="4000 bbl", uncertainty="1 %",
        example={"us": "15 bbl", "metric": "20 hL", "uk": "10 imp bbl"},
    )
    plato = Quantity(
        "extract", low="1 °P", high="35 °P", uncertainty="0.1 °P", optional=True, example="12 °P",
    )
    specific_gravity = Quantity(
        "gravity", low="1.004 SG", high="1.155 SG", uncertainty="0.0005 SG", optional=True,
    )
    slurry_cells = Quantity(
        "cell_density", low="0.01 billion/mL", high="15 billion/mL", uncertainty="10 %", optional=True,
        example="1.2 billion/mL",
    )
    cells_by_mass = Quantity(
        "cells_by_mass", low="0.01 billion/g", high="15 billion/g", uncertainty="10 %", optional=True,
    )
    viability = Quantity("share", low="1 %", high="100 %", uncertainty="2 %", example="95 %")
    cone_solids = Quantity(
        "tank_volume", low="0.001 bbl", high="2000 bbl", uncertainty="10 %", optional=True,
        example={"us": "20 gal", "metric": "80 L", "uk": "70 L"},
    )
    pitch_rate = Quantity(
        "pitch_rate", low="0.1 million/mL/°P", high="10 million/mL/°P", default="1 million/mL/°P",
    )
    slurry_density = Quantity(
        "density", low="1000 kg/m³", high="1200 kg/m³", uncertainty="0.02 g/mL", default="1.05 g/mL",
    )


def refusals(x):
    if x.plato is None and x.specific_gravity is None:
        yield "plato", "no-gravity"
    if x.plato is not None and x.specific_gravity is not None:
        yield "specific_gravity", "two-gravities"
    if x.slurry_cells is None and x.cells_by_mass is None:
        yield "slurry_cells", "no-count"
    if x.slurry_cells is not None and x.cells_by_mass is not None:
        yield "cells_by_mass", "two-counts"


def compute(x):
    plato = plato_from_gravity(x.specific_gravity) if x.plato is None else x.plato
    cells = cells_to_pitch(x.pitch_rate, x.batch_volume, plato)
    volume = slurry_volume(cells, _cells_by_volume(x), x.viability)
    return {
        "slurry_mass": volume * x.slurry_density,
        "slurry_volume": volume,
        "cells": cells,
        "share_of_cone": None if x.cone_solids is None else volume / x.cone_solids,
    }


def _cells_by_volume(x):
    return x.cells_by_mass * x.slurry_density if x.slurry_cells is None else x.slurry_cells


def remarks(x, y):
    if x.cone_solids is not None:
        yield "not-enough" if y["slurry_volume"] > x.cone_solids else "enough"
    if x.viability < LEAST_VIABILITY:
        yield "low-viability"
    if not USUAL_SLURRY[0] <= _cells_by_volume(x) <= USUAL_SLURRY[1]:
        yield "unusual-slurry"
