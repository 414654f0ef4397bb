"""What left the tank in a purge, told apart: solids, the beer in them, and the beer after the colour change."""

from tankfoot.calculators.readings import BEER_VALUE
from tankfoot.quantities.field import Form, Quantity

RESULTS = {
    "overrun": "bucket_volume",
    "solids": "bucket_volume",
    "beer_in_solids": "bucket_volume",
    "saved": "bucket_volume",
    "money_lost": "money",
    "money_saved": "money",
}
MORE = ("usual_overrun", "beer_value")
CAUTIONS = {"steady": "NOTICE"}


class Inputs(Form):
    volume_lost = Quantity(
        "tank_volume", low="0.001 L", high="2000 bbl", uncertainty="10 %",
        example={"us": "0.3 bbl", "metric": "0.35 hL", "uk": "0.2 imp bbl"},
    )
    run_time = Quantity("duration", low="0.1 s", high="7200 s", uncertainty="1 s", example="90 s")
    overrun_time = Quantity("duration", low="0 s", high="7200 s", uncertainty="1 s", example="10 s")
    beer_share = Quantity("share", low="0 %", high="100 %", uncertainty="10 %", default="50 %")
    usual_overrun = Quantity(
        "bucket_volume", low="0 L", high="100000 L", optional=True,
        example={"us": "3 gal", "metric": "12 L", "uk": "12 L"},
    )
    beer_value = BEER_VALUE


def refusals(x):
    if x.overrun_time > x.run_time:
        yield "overrun_time", "longer-than-the-run"


def compute(x):
    overrun = x.volume_lost * x.overrun_time / x.run_time
    before_change = x.volume_lost - overrun
    beer_in_solids = before_change * x.beer_share
    saved = None if x.usual_overrun is None else x.usual_overrun - overrun
    return {
        "overrun": overrun,
        "solids": before_change - beer_in_solids,
        "beer_in_solids": beer_in_solids,
        "saved": saved,
        "money_lost": None if x.beer_value is None else (overrun + beer_in_solids) * x.beer_value,
        "money_saved": None if x.beer_value is None or saved is None else saved * x.beer_value,
    }


def remarks(x, y):
    if x.usual_overrun is not None and y["overrun"] > x.usual_overrun:
        yield "a-loss"
