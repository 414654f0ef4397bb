"""How many fill-and-vent pops clear a hose, a connector or a headspace of air."""

from tankfoot.calculators.readings import AIR_PRESSURE, CELLAR_TEMPERATURE
from tankfoot.physics.purging import oxygen_mass, pops_to_reach
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"cycles": "count", "oxygen_left": "trace_share", "oxygen_pickup": "trace_mass"}
MORE = ("beer_volume",)
CAUTIONS = {"asphyxiation": "WARNING", "rated-pressure": "WARNING", "dead-ends": "NOTICE"}
STEPPED = ("cycles", "oxygen_left", "oxygen_pickup")
MANY_POPS = 20


class Inputs(Form):
    volume = Quantity(
        "tank_volume", low="10 mL", high="2000 bbl",
        example={"us": "0.5 gal", "metric": "2 L", "uk": "2 L"},
    )
    top_pressure = Quantity(
        "gauge_pressure", low="0.1 psi", high="60 psi",
        example={"us": "15 psi", "metric": "1 bar", "uk": "1 bar"},
    )
    target_oxygen = Quantity("trace_share", low="1 ppm", high="20 %", example="1000 ppm")
    beer_volume = Quantity(
        "tank_volume", low="1 L", high="4000 bbl", optional=True,
        example={"us": "15 bbl", "metric": "17 hL", "uk": "10 imp bbl"},
    )
    vent_pressure = Quantity("gauge_pressure", low="0 psi", high="60 psi", default="0 psi")
    gas_oxygen = Quantity("trace_share", low="0 ppm", high="1 %", default="30 ppm")
    temperature = CELLAR_TEMPERATURE
    air_pressure = AIR_PRESSURE


def _pops(x):
    vent = x.vent_pressure + x.air_pressure
    return pops_to_reach(x.target_oxygen, x.gas_oxygen, x.air_pressure, vent, x.top_pressure + x.air_pressure)


def refusals(x):
    if x.vent_pressure >= x.top_pressure:
        yield "vent_pressure", "vent-not-below-top"
    elif x.target_oxygen <= x.gas_oxygen:
        yield "target_oxygen", "gas-is-not-that-clean"
    else:
        try:
            _pops(x)
        except ValueError:
            yield "top_pressure", "too-many-pops"


def compute(x):
    cycles, share = _pops(x)
    left = oxygen_mass(share, x.vent_pressure + x.air_pressure, x.volume, x.temperature)
    return {
        "cycles": float(cycles),
        "oxygen_left": share,
        "oxygen_pickup": None if x.beer_volume is None else left / x.beer_volume,
    }


def remarks(x, y):
    if y["cycles"] > MANY_POPS:
        yield "many-pops"
