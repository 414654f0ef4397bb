"""How much peracetic acid concentrate makes a batch of sanitizer."""

from tankfoot.quantities.field import Form, Quantity

RESULTS = {"concentrate_volume": "dose_volume", "concentrate_mass": "liquid_mass"}
CAUTIONS = {"corrosive": "WARNING", "never-mix": "WARNING", "vapour": "WARNING", "label": "NOTICE"}
USUAL_TARGET = (0.08, 0.2)  # kg/m3


class Inputs(Form):
    concentrate = Quantity("strength", low="0.5 %", high="40 %", uncertainty="0.3 %", example="5 %")
    target = Quantity("concentration", low="1 mg/L", high="10000 mg/L", default="150 mg/L")
    batch_volume = Quantity(
        "bucket_volume", low="10 mL", high="10000 L", uncertainty="2 %",
        example={"us": "5 gal", "metric": "20 L", "uk": "20 L"},
    )
    density = Quantity(
        "density", low="950 kg/m³", high="1300 kg/m³", uncertainty="0.01 g/mL", default="1.11 g/mL",
    )


def refusals(x):
    if x.target >= x.concentrate * x.density:
        yield "target", "stronger-than-concentrate"


def compute(x):
    volume = x.target * x.batch_volume / (x.concentrate * x.density)
    return {"concentrate_volume": volume, "concentrate_mass": volume * x.density}


def remarks(x, y):
    if x.target < USUAL_TARGET[0]:
        yield "weak"
    if x.target > USUAL_TARGET[1]:
        yield "strong"
