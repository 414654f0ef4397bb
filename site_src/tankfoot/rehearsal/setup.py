"""What stays as it is through a rehearsal: the tank's own numbers, what hangs under it, what is wrong with it."""

import math

from tankfoot.physics.fermentation import WATER_DENSITY, co2_made
from tankfoot.physics.outflow import bore_area
from tankfoot.physics.vessel import cone_volume, cross_section, head_volume
from tankfoot.tanks.gas import last_pressure
from tankfoot.tanks.shape import tank_shape

BETWEEN, GLASS = 0.25, 0.2  # m of bore between the valves, and in the sight glass; chosen
PLATE = 1e5  # Pa, of a tank without one
HOLDS = {"pressure": (-2e4, 2.5e5), "temperature": (265.0, 310.0), "bore": (0.01, 0.2), "diameter": (0.2, 20.0)}
LEAST_HEADSPACE = 0.03  # m3, so that no twentieth of a second empties or fills it


def setup_of(scenario):
    """What stays as it is, by a ``scenario``: one level of names, SI."""
    tank, solids, blow = scenario["tank"], scenario["solids"], scenario["blow_off"]
    shape = tank_shape(tank)
    in_cone = cone_volume(tank["diameter"], shape["cone"])
    area = bore_area(tank["bore"])
    gravity = scenario["density"] / WATER_DENSITY
    own_head = head_volume(tank["diameter"], tank["head_depth"])
    return {
        "air_pressure": scenario["air_pressure"], "temperature": tank["temperature"],
        "room_temperature": scenario["room_temperature"], "density": scenario["density"],
        "viscosity": scenario["viscosity"],
        "cone": shape["cone"], "in_cone": in_cone, "across": cross_section(tank["diameter"]),
        "below_head": shape["total"] - shape["head"], "head": shape["head"], "total": shape["total"],
        "head_depth": tank["head_depth"] if own_head > 0.0 else 0.0,
        "bore": tank["bore"], "plate": tank["rated_pressure"] or PLATE,
        "kind": solids["kind"], "solids_viscosity": solids["viscosity"], "follows": solids["follows"],
        "plugs": solids["plugs"], "lets_go": solids["lets_go"],
        "solids_at_first": solids["share"] * in_cone, "beer_at_first": tank["beer_volume"] - solids["share"] * in_cone,
        "between_holds": area * BETWEEN, "glass_holds": area * GLASS,
        "hose_bore": tank["bore"], "hose_length": scenario["hose_length"],
        "hose_holds": area * scenario["hose_length"], "bucket_holds": scenario["bucket_holds"],
        "leak": scenario["leak"], "relief_sticks": scenario["relief_sticks"],
        "vacuum_valve": scenario["vacuum_valve"], "gauge_band": scenario["gauge_band"],
        "max_flow": scenario["max_flow"], "trapped_yeast": scenario["trapped_yeast"], "late": scenario["late"],
        "made": co2_made(tank["beer_volume"], gravity, scenario["fall"]),
        "blow_dip": blow["dip"], "blow_lift": blow["lift"], "blow_water": blow["water"],
        "happens": scenario["happens"],
    }


def own_tank(scenario, body, air_pressure):
    """The ``scenario`` on another tank, by the ``body`` of its entry in the record, and the air there (Pa).

    What the tank's entry does not know stays as the scenario's tank has it. Its solids fill the same share of the cone.
    None where the tank cannot be rehearsed on: less beer than solids, or hardly any headspace.
    """
    known = {name: value for name, value in body.items() if name in scenario["tank"] and value is not None}
    last = last_pressure(body)
    pressure = scenario["tank"]["pressure"] if last is None else last
    tank = {**scenario["tank"], "head_volume": None, **known, "pressure": pressure}
    made = {**scenario, "tank": tank, "air_pressure": air_pressure}
    return made if can_be(made) else None


def can_be(scenario):
    """Whether a ``scenario``'s tank can be rehearsed on: headspace for a step's gas, beer above the solids, numbers for
    which the equations hold.
    """
    tank, shape = scenario["tank"], tank_shape(scenario["tank"])
    if not all(low <= tank[name] <= high for name, (low, high) in HOLDS.items()):
        return False
    solids = scenario["solids"]["share"] * cone_volume(tank["diameter"], shape["cone"])
    room = shape["headspace"] - scenario["blow_off"]["water"]
    return math.isfinite(room) and room >= LEAST_HEADSPACE and tank["beer_volume"] >= 2.0 * solids + LEAST_HEADSPACE


RANGES = {
    "setup_of": ["rehearsal scenario"],
    "own_tank": ["rehearsal scenario", "tank", (6e4, 1.1e5)],
    "can_be": "scenario that can be",
}
