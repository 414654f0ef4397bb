"""What the wrong clamp or a slipped hose lets out."""

from tankfoot.calculators.readings import (
    AIR_PRESSURE,
    ASKED_BORE,
    BEER_DENSITY,
    GAS_TEMPERATURE,
    LIQUID_HEAD,
    PORT_PRESSURE,
)
from tankfoot.physics.gas import co2_density
from tankfoot.physics.outflow import (
    exit_speed,
    force_on_cap,
    gas_outflow,
    is_choked,
    jet_force,
    port_overpressure,
    short_tube_flow,
)
from tankfoot.quantities.field import Form, Quantity

RESULTS = {
    "flow": "beer_flow",
    "time_to_lose": "duration",
    "force_on_cap": "force",
    "jet_force": "force",
    "exit_speed": "speed",
    "gas_flow": "gas_mass_flow",
}
CAUTIONS = {"jet": "DANGER", "gas": "DANGER"}


class Inputs(Form):
    pressure = PORT_PRESSURE
    liquid_head = LIQUID_HEAD
    bore = ASKED_BORE
    loss_volume = Quantity(
        "tank_volume", low="0.01 bbl", high="4000 bbl",
        default={"us": "1 bbl", "metric": "1 hL", "uk": "1 imp bbl"},
    )
    density = BEER_DENSITY
    temperature = GAS_TEMPERATURE
    air_pressure = AIR_PRESSURE


def refusals(x):
    if port_overpressure(x.pressure, x.liquid_head, x.density) <= 0.0:
        yield "pressure", "nothing-pushes"


def compute(x):
    overpressure = port_overpressure(x.pressure, x.liquid_head, x.density)
    flow = short_tube_flow(overpressure, x.density, x.bore)
    inside = x.pressure + x.air_pressure
    return {
        "flow": flow,
        "time_to_lose": x.loss_volume / flow,
        "force_on_cap": force_on_cap(overpressure, x.bore),
        "jet_force": jet_force(overpressure, x.bore),
        "exit_speed": exit_speed(overpressure, x.density),
        "gas_flow": gas_outflow(inside, x.air_pressure, co2_density(inside, x.temperature), x.bore),
    }


def remarks(x, y):
    if is_choked(x.pressure + x.air_pressure, x.air_pressure):
        yield "gas-choked"
