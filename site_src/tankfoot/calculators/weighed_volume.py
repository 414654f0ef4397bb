"""What left the tank, from a scale."""

from tankfoot.quantities.field import Form, Quantity

RESULTS = {"volume_lost": "tank_volume", "net_mass": "solids_mass"}
CAUTIONS = {"lifting": "CAUTION", "foam": "NOTICE"}


class Inputs(Form):
    mass = Quantity(
        "solids_mass", low="0.001 kg", high="100000 kg", uncertainty="0.1 kg",
        example={"us": "45 lb", "metric": "20 kg", "uk": "20 kg"},
    )
    tare = Quantity(
        "solids_mass", low="0 kg", high="10000 kg", uncertainty="0.1 kg", optional=True,
        example={"us": "2.5 lb", "metric": "1.1 kg", "uk": "1.1 kg"},
    )
    density = Quantity(
        "density", low="500 kg/m³", high="1300 kg/m³", uncertainty="0.02 g/mL", default="1.03 g/mL",
    )


def refusals(x):
    if x.tare is not None and x.tare >= x.mass:
        yield "tare", "nothing-in-it"


def compute(x):
    net = x.mass if x.tare is None else x.mass - x.tare
    return {"volume_lost": net / x.density, "net_mass": net}


def remarks(x, y):
    if x.tare is None:
        yield "no-tare"
