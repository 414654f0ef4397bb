"""What left the tank, from a stopwatch and a bucket test."""

from tankfoot.quantities.field import Form, Quantity

RESULTS = {"volume_lost": "tank_volume", "flow_used": "beer_flow"}
CAUTIONS = {"same-setting": "NOTICE"}


class Inputs(Form):
    duration = Quantity("duration", low="0.1 s", high="7200 s", uncertainty="1 s", example="45 s")
    bucket_volume = Quantity(
        "bucket_volume", low="10 mL", high="1000 L", uncertainty="3 %", optional=True,
        example={"us": "2 gal", "metric": "10 L", "uk": "10 L"},
    )
    bucket_time = Quantity(
        "duration", low="0.1 s", high="3600 s", uncertainty="0.5 s", optional=True, example="20 s",
    )
    flow = Quantity("beer_flow", low="0.001 L/min", high="5000 L/min", uncertainty="10 %", optional=True)


def refusals(x):
    if (x.bucket_volume is None) != (x.bucket_time is None):
        yield "bucket_time", "half-a-bucket-test"
    elif x.flow is None and x.bucket_volume is None:
        yield "flow", "no-flow"
    elif x.flow is not None and x.bucket_volume is not None:
        yield "flow", "two-flows"


def compute(x):
    flow = x.bucket_volume / x.bucket_time if x.flow is None else x.flow
    return {"volume_lost": flow * x.duration, "flow_used": flow}


def remarks(x, y):
    if x.bucket_time is not None and x.bucket_time < 5.0:
        yield "short-bucket-test"
