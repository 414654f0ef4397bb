"""Cells and viability from a counting chamber."""

from tankfoot.physics.yeast import cell_density, live_share
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"cells": "cell_density", "viability": "share"}
CAUTIONS = {"stain": "CAUTION", "which-sample": "NOTICE"}
ENOUGH_CELLS = 200.0  # their square root is 7 % of them
ENOUGH_DEAD = 5.0


class Inputs(Form):
    live = Quantity("count", low="0", high="100000", uncertainty="poisson", example="285")
    dead = Quantity("count", low="0", high="100000", uncertainty="poisson", example="15")
    squares = Quantity("count", low="1", high="1000", example="25")
    dilution = Quantity("ratio", low="1", high="1000000", example="400")
    square_volume = Quantity("chamber_volume", low="0.01 nL", high="1000 nL", default="4 nL")


def refusals(x):
    if x.live + x.dead < 1.0:
        yield "live", "nothing-counted"


def compute(x):
    return {
        "cells": cell_density(x.live + x.dead, x.squares, x.square_volume, x.dilution),
        "viability": live_share(x.live, x.dead),
    }


def remarks(x, y):
    if x.live % 1.0 != 0.0 or x.dead % 1.0 != 0.0:
        yield "not-whole"
    if x.live + x.dead < ENOUGH_CELLS:
        yield "few-cells"
    if x.dead < ENOUGH_DEAD:
        yield "few-dead"
