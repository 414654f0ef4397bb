"""What stopping at the colour change saves, a purge, a batch and a year."""

from tankfoot.calculators.readings import BEER_VALUE
from tankfoot.quantities.field import Form, Quantity

RESULTS = {
    "saved_per_purge": "bucket_volume",
    "saved_per_batch": "tank_volume",
    "saved_per_year": "tank_volume",
    "money_per_year": "money",
}
MORE = ("beer_value",)
CAUTIONS = {"solids-left": "NOTICE"}


class Inputs(Form):
    flow = Quantity(
        "beer_flow", low="0.01 L/min", high="2000 L/min", uncertainty="10 %",
        example={"us": "5 gal/min", "metric": "20 L/min", "uk": "20 L/min"},
    )
    overrun_usual = Quantity("duration", low="0 s", high="3600 s", uncertainty="2 s", example="30 s")
    overrun_now = Quantity("duration", low="0 s", high="3600 s", uncertainty="2 s", example="5 s")
    purges_per_batch = Quantity("count", low="0 times", high="100 times", example="4")
    batches_per_year = Quantity("count", low="0 times", high="10000 times", example="60")
    beer_value = BEER_VALUE


def refusals(x):
    return ()


def compute(x):
    per_purge = x.flow * (x.overrun_usual - x.overrun_now)
    per_batch = per_purge * x.purges_per_batch
    per_year = per_batch * x.batches_per_year
    return {
        "saved_per_purge": per_purge,
        "saved_per_batch": per_batch,
        "saved_per_year": per_year,
        "money_per_year": None if x.beer_value is None else per_year * x.beer_value,
    }


def remarks(x, y):
    if x.overrun_now > x.overrun_usual:
        yield "a-loss"
