"""How fast a purge runs through the bottom port, the flow valve and the hose."""

from tankfoot.calculators.readings import BEER_DENSITY, LIQUID_HEAD, PORT_PRESSURE, USUAL_BORE
from tankfoot.physics.outflow import port_overpressure
from tankfoot.physics.pipe import (
    LAMINAR_BELOW,
    TURBULENT_ABOVE,
    diaphragm_valve_coefficient,
    flow_at,
    hose_speed,
    reynolds_number,
)
from tankfoot.quantities.field import Form, Quantity

RESULTS = {"flow": "beer_flow", "duration": "duration", "port_speed": "speed", "reynolds": "ratio"}
MORE = ("loss_coefficient", "hose_bore")
CAUTIONS = {"vacuum": "WARNING", "hose-end": "WARNING", "what-is-left": "NOTICE"}


class Inputs(Form):
    pressure = PORT_PRESSURE
    liquid_head = LIQUID_HEAD
    bore = USUAL_BORE
    valve_opening = Quantity(
        "share", low="25 %", high="100 %", uncertainty="5 %", optional=True, example="25 %",
    )
    loss_coefficient = Quantity("ratio", low="0", high="10000", uncertainty="10 %", optional=True)
    hose_length = Quantity(
        "hose_length", low="0 m", high="100 m", example={"us": "10 ft", "metric": "3 m", "uk": "3 m"},
    )
    hose_bore = Quantity(
        "bore", low="5 mm", high="300 mm", optional=True,
        example={"us": "1.5 in", "metric": "38 mm", "uk": "38 mm"},
    )
    volume = Quantity(
        "tank_volume", low="0.001 bbl", high="4000 bbl",
        example={"us": "5 gal", "metric": "20 L", "uk": "20 L"},
    )
    density = BEER_DENSITY
    viscosity = Quantity(
        "viscosity", low="0.3 mPa·s", high="100000 mPa·s", uncertainty="20 %", default="3 mPa·s",
    )


def refusals(x):
    if port_overpressure(x.pressure, x.liquid_head, x.density) <= 0.0:
        yield "pressure", "nothing-pushes"
    if x.valve_opening is None and x.loss_coefficient is None:
        yield "valve_opening", "no-valve"
    if x.valve_opening is not None and x.loss_coefficient is not None:
        yield "loss_coefficient", "two-valves"


def compute(x):
    overpressure = port_overpressure(x.pressure, x.liquid_head, x.density)
    valve = diaphragm_valve_coefficient(x.valve_opening) if x.loss_coefficient is None else x.loss_coefficient
    hose_bore = x.bore if x.hose_bore is None else x.hose_bore
    speed = hose_speed(overpressure, x.bore, valve, x.hose_length, hose_bore, x.density, x.viscosity)
    flow = flow_at(speed, hose_bore)
    return {
        "flow": flow,
        "duration": x.volume / flow,
        "port_speed": flow / flow_at(1.0, x.bore),
        "reynolds": reynolds_number(speed, hose_bore, x.density, x.viscosity),
    }


def remarks(x, y):
    if y["reynolds"] <= LAMINAR_BELOW:
        yield "laminar"
    elif y["reynolds"] < TURBULENT_ABOVE:
        yield "in-between"
    else:
        yield "turbulent"
