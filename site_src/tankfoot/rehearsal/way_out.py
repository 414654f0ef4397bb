"""The way out of the tank's foot: valves, what is plugged, how fast it runs. The energy balance is purge-flow's."""

import math

from tankfoot.physics.interpolation import pchip, pchip_slopes
from tankfoot.physics.outflow import (
    SHORT_TUBE_COEFFICIENT,
    STANDARD_GRAVITY,
    bore_area,
    exit_speed,
)
from tankfoot.physics.pipe import diaphragm_valve_coefficient, hose_speed

# Source: Perry's Chemical Engineers' Handbook, frictional loss for turbulent flow through fittings and valves,
# butterfly valve at 60, 40, 20, 10 and 5 degrees from open (from memory): share of the quarter turn, loss coefficient.
BUTTERFLY_OPENINGS = [1.0 - degrees / 90.0 for degrees in (60.0, 40.0, 20.0, 10.0, 5.0)]
BUTTERFLY_LOGARITHMS = [math.log(k) for k in (118.0, 10.8, 1.54, 0.52, 0.24)]
BUTTERFLY_SLOPES = pchip_slopes(BUTTERFLY_OPENINGS, BUTTERFLY_LOGARITHMS)
NEARLY_SHUT = 4.0  # below the table a butterfly's loss grows with this power of its opening; chosen
DIAPHRAGM_FROM = 0.25  # where the handbook's table begins
THROTTLED = 2.0  # below it a diaphragm valve's loss grows with this power: its gap narrows as it turns; chosen
LINEAR_BELOW = 100.0  # Pa, below which a speed is taken in proportion: a root has no slope at nothing
SLUG = 0.35  # a long bubble rises in a pipe of water at 0.35 sqrt(g d): Davies and Taylor, 1950 (from memory)
GLUGS_BELOW = 500.0  # Pa at an open port, below which air comes in past the liquid; chosen


def isolation_coefficient(opening):
    """Loss coefficient of a butterfly valve on the speed in its bore, for an ``opening`` above 0 to 1.

    The handbook's points, their logarithms joined by a monotone cubic; wide open as at 5 degrees.

    >>> round(isolation_coefficient(5.0 / 9.0), 6), round(isolation_coefficient(1.0), 6)
    (10.8, 0.24)
    """
    first, last = BUTTERFLY_OPENINGS[0], BUTTERFLY_OPENINGS[-1]
    within = min(max(opening, first), last)
    table = math.exp(pchip(BUTTERFLY_OPENINGS, BUTTERFLY_LOGARITHMS, BUTTERFLY_SLOPES, within))
    return table * math.pow(within / min(opening, within), NEARLY_SHUT)


def flow_valve_coefficient(opening):
    """Loss coefficient of the diaphragm valve for an ``opening`` above 0 to 1; below a quarter it is only chosen.

    >>> round(flow_valve_coefficient(0.5), 6), round(flow_valve_coefficient(0.125), 6)
    (4.3, 84.0)
    """
    within = max(opening, DIAPHRAGM_FROM)
    return diaphragm_valve_coefficient(within) * math.pow(within / opening, THROTTLED)


def mixed_viscosity(beer, solids, share):
    """Viscosity of beer with a ``share`` of solids in it, Pa s: ``beer`` (solids / beer)^share; chosen.

    >>> round(mixed_viscosity(0.002, 0.2, 0.5), 6)
    0.02
    """
    return beer * math.pow(solids / beer, share)


def liquid_level(setup, volume):
    """Level of a ``volume`` (m3) of liquid above the port, m; in the head in proportion to its volume.

    >>> setup = {"cone": 0.9, "in_cone": 0.3, "across": 1.0, "below_head": 1.3, "head": 0.2, "head_depth": 0.1}
    >>> round(liquid_level(setup, 0.8), 9), round(liquid_level(setup, 1.4), 9), round(liquid_level(setup, 0.0375), 9)
    (1.4, 1.95, 0.45)
    """
    if volume <= setup["in_cone"]:
        return setup["cone"] * math.pow(volume / setup["in_cone"], 1.0 / 3.0)
    level = setup["cone"] + (min(volume, setup["below_head"]) - setup["in_cone"]) / setup["across"]
    if volume <= setup["below_head"] or setup["head"] <= 0.0:
        return level
    return level + setup["head_depth"] * min(1.0, (volume - setup["below_head"]) / setup["head"])


def way_out(state):
    """Where what leaves the tank goes: "tank-side", "outer" (jets from an open clamp), "hose"; None where all is shut.

    An isolation valve that leaks is never quite shut.
    """
    if state["tank_side"] == "open":
        return "tank-side"
    if isolation_of(state) <= 0.0 or state["plugged"]:
        return None
    if state["outer"] == "open":
        return "outer"
    if state["outer"] == "stack" and state["flow_valve"] > 0.0 and not state["packed"]:
        return "hose"
    return None


def isolation_of(state):
    """How far the isolation valve lets through: as its handle stands, and no less than its leak."""
    return max(state["isolation"], state["setup"]["leak"])


def port_speed(state, way, overpressure, solids_share):
    """Speed in the port's bore, m/s, that an ``overpressure`` (Pa) at it makes; 0 where nothing pushes.

    Through the hose ``hose_speed``; from an open clamp a short tube, behind the isolation valve where it is "outer".
    """
    if overpressure <= 0.0:
        return 0.0
    setup, pushes = state["setup"], max(overpressure, LINEAR_BELOW)
    part = min(1.0, overpressure / LINEAR_BELOW)
    if way != "hose":
        return part * jet_coefficient(state, way) * exit_speed(pushes, setup["density"])
    loss = isolation_coefficient(isolation_of(state)) + flow_valve_coefficient(state["flow_valve"])
    viscosity = mixed_viscosity(setup["viscosity"], setup["solids_viscosity"], solids_share)
    bore, hose_bore = setup["bore"], setup["hose_bore"]
    speed = hose_speed(pushes, bore, loss, setup["hose_length"], hose_bore, setup["density"], viscosity)
    return part * speed * bore_area(hose_bore) / bore_area(bore)


def jet_coefficient(state, way):
    """Speed of a jet at a clamp over that of a jet without losses: 0.80 of a short tube, less behind a valve.

    >>> jet_coefficient({}, "tank-side")
    0.8
    """
    if way == "tank-side":
        return SHORT_TUBE_COEFFICIENT
    loss = isolation_coefficient(isolation_of(state))
    return 1.0 / math.sqrt(1.0 / (SHORT_TUBE_COEFFICIENT * SHORT_TUBE_COEFFICIENT) + loss)


def gas_coefficient(state, way):
    """The same for gas, once the liquid is gone; a hose counts by its valves alone."""
    if way != "hose":
        return jet_coefficient(state, way)
    loss = isolation_coefficient(isolation_of(state)) + flow_valve_coefficient(state["flow_valve"])
    return 1.0 / math.sqrt(1.0 / (SHORT_TUBE_COEFFICIENT * SHORT_TUBE_COEFFICIENT) + loss)


def glug_flow(bore, overpressure):
    """Flow of liquid out of an open port that draws air in past it, m3/s: half the bore at the speed of a long bubble.

    0 from 500 Pa on, in proportion below.

    >>> round(glug_flow(0.0381, 0.0) * 1000, 3), glug_flow(0.0381, 500.0)
    (0.122, 0.0)
    """
    share = min(1.0, max(0.0, 1.0 - overpressure / GLUGS_BELOW))
    return 0.5 * bore_area(bore) * SLUG * math.sqrt(STANDARD_GRAVITY * bore) * share


RANGES = {
    "isolation_coefficient": [(0.005, 1.0, 1.0 / 3.0, 5.0 / 9.0, 0.95)],
    "flow_valve_coefficient": [(0.01, 1.0, 0.25, 0.5)],
    "mixed_viscosity": [(0.001, 0.005), (0.01, 0.5), (0.0, 1.0)],
    "liquid_level": ["rehearsal setup", (0.0, 12.0)],
    "way_out": ["rehearsal state"],
    "isolation_of": ["rehearsal state"],
    "port_speed": "speed of a rehearsal",
    "jet_coefficient": "way of a rehearsal",
    "gas_coefficient": "way of a rehearsal",
    "glug_flow": [(0.01, 0.15), (-1e4, 1000.0, 0.0, 500.0)],
}
