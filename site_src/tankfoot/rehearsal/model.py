"""A rehearsal as it begins, and each twentieth of a second of it.

The gas and the liquid of the tank move by the midpoint rule; what they rest on and how far that is from the equations
stands in methods.md. What hangs under the port holds so little that it is taken in equilibrium.
"""

import math

from tankfoot.physics.gas import co2_density
from tankfoot.physics.outflow import bore_area
from tankfoot.purge.shuffle import seeded
from tankfoot.rehearsal.events import STEPS_A_SECOND, told
from tankfoot.rehearsal.liquids import BEER, NOTHING, SOLIDS, added, passed, share_of, volume_of
from tankfoot.rehearsal.moves import lifted, moved, overpressure_of, pressure_of, rates, relief_lift, vacuum_lift
from tankfoot.rehearsal.noticed import noticed
from tankfoot.rehearsal.setup import setup_of
from tankfoot.rehearsal.solids import core_after, plug_begins, plug_lasts
from tankfoot.rehearsal.way_out import jet_coefficient, way_out

STEP = 1.0 / STEPS_A_SECOND  # s
SEEPS = 5.0  # s in which a leak brings what is shut in below it to 1/e of the tank's pressure; chosen
PLUG_OPENS = 8.0  # s after a plug let go in which none forms; chosen


def begin(scenario, seed):
    """The state that a ``scenario`` begins with; ``seed``, any text, for what chance does in it."""
    setup, begins = setup_of(scenario), scenario["begins"]
    tank = [setup["beer_at_first"], setup["solids_at_first"], 0.0]
    gauge, headspace = scenario["tank"]["pressure"], setup["total"] - volume_of(tank)
    between = [0.0, setup["between_holds"], 0.0] if begins["trapped"] is not None else NOTHING
    return {
        "scenario": scenario["name"], "setup": setup, "steps": 0, "chance": seeded(seed),
        "tank": tank, "co2": co2_density(gauge + setup["air_pressure"], setup["temperature"]) * headspace, "air": 0.0,
        "gas_temperature": setup["temperature"], "gauge": gauge,
        "needle": gauge if begins["needle"] is None else begins["needle"],
        "core": 0.0, "plugged": False, "plug_ends": 0, "packed": begins["packed"],
        "between": between, "glass": [0.0, setup["glass_holds"], 0.0] if begins["packed"] else NOTHING,
        "pipe": NOTHING, "bucket": NOTHING, "drain": NOTHING, "floor": NOTHING, "blow_bucket": setup["blow_water"],
        "trapped": begins["trapped"] or 0.0, "connector": "air", "drawn": NOTHING,
        "co2_made": 0.0, "co2_supplied": 0.0, "co2_lost": 0.0, "air_in": 0.0, "air_lost": 0.0,
        "isolation": begins["isolation"], "flow_valve": begins["flow_valve"], "gas": begins["gas"],
        "regulator": begins["regulator"], "vent": 0.0, "blow_off": begins["blow_off"], "pipe_end": "in",
        "outer": begins["outer"], "tank_side": "closed", "hose": begins["hose"], "bleed": False, "away": False,
        "speed": 0.0, "flow": 0.0, "jet": 0.0, "jet_push": 0.0, "hiss": 0.0, "relief": 0.0, "vacuum": 0.0, "rises": 0.0,
        "spilt": 0.0, "open": False, "turned": None, "overrun": 0.0, "alarm": None, "on": {}, "happened": [],
    }


def step(state):
    """``state`` a twentieth of a second later."""
    state = _interrupted(state)
    half = moved(state, state, rates(state), 0.5 * STEP)
    rate = rates(half)
    after = _shown(_solids_after(_below(moved(state, half, rate, STEP)), rate), rate)
    return noticed({**after, "steps": state["steps"] + 1})


def _interrupted(state):
    """What comes from outside at its time: an alarm, a phone that rings."""
    for each in state["setup"]["happens"]:
        if math.floor(each["at"] * STEPS_A_SECOND + 0.5) == state["steps"]:
            state = told(state, each["what"], {})
            state = {**state, "alarm": state["steps"]} if each["what"] == "alarm" else state
    return state


def _below(state):
    """What left the port goes on its way: through what hangs below into the bucket, or onto the floor."""
    setup, way, drawn = state["setup"], way_out(state), state["drawn"]
    if way != "hose":
        return {**state, "flow": 0.0, "jet": volume_of(drawn) / STEP, "floor": added(state["floor"], drawn),
                "spilt": 0.0}
    between, below = passed(setup["between_holds"], state["between"], drawn)
    glass, beyond = passed(setup["glass_holds"], state["glass"], below)
    pipe, out = passed(setup["hose_holds"], state["pipe"], beyond)
    moved_on = {**state, "between": between, "glass": glass, "pipe": pipe, "flow": volume_of(drawn) / STEP, "jet": 0.0,
                "spilt": 0.0}
    if state["hose"] == "drain":
        return {**moved_on, "drain": added(state["drain"], out)}
    if state["hose"] == "loose":
        return {**moved_on, "floor": added(state["floor"], out)}
    bucket, over = passed(setup["bucket_holds"], state["bucket"], out)
    return {**moved_on, "bucket": bucket, "floor": added(state["floor"], over), "spilt": volume_of(over) / STEP}


def _solids_after(state, rate):
    """The core, and a plug that forms or lets go."""
    setup = state["setup"]
    core = core_after(state["core"], rate["speed"], setup["follows"], STEP)
    if state["plugged"]:
        return {**state, "core": core, "plugged": state["steps"] < state["plug_ends"]}
    rests = state["steps"] < state["plug_ends"] + PLUG_OPENS * STEPS_A_SECOND and state["plug_ends"] > 0
    solids = state["drawn"][SOLIDS] if way_out(state) == "hose" and not rests else 0.0
    chance, begins = plug_begins(state["chance"], solids, setup["plugs"])
    if not begins:
        return {**state, "core": core, "chance": chance}
    chance, lasts = plug_lasts(chance, setup["lets_go"])
    ends = state["steps"] + math.floor(lasts * STEPS_A_SECOND)
    return {**state, "core": core, "chance": chance, "plugged": True, "plug_ends": ends}


def _shown(state, rate):
    """What stands in the stack, what the needle shows, what is heard."""
    setup, over, way = state["setup"], overpressure_of(state), way_out(state)
    gauge, band = pressure_of(state) - setup["air_pressure"], setup["gauge_band"]
    coefficient = jet_coefficient(state, way) if way in ("tank-side", "outer") else 0.0
    push = 2.0 * coefficient * coefficient * max(0.0, over) * bore_area(setup["bore"])
    is_beer = state["turned"] is not None and way == "hose"
    return {
        **state, "gauge": gauge, "needle": min(max(state["needle"], gauge - band), gauge + band),
        "trapped": _trapped(state, max(0.0, over)), "speed": rate["speed"],
        "overrun": state["overrun"] + (state["drawn"][BEER] if is_beer else 0.0),
        "jet_push": push, "hiss": max(0.0, rate["supply"]), "relief": relief_lift(state, gauge),
        "vacuum": vacuum_lift(state, gauge), "rises": lifted(state, gauge),
    }


def _trapped(state, over):
    """Pressure between the valves, Pa: that of the tank, of the air outside, or of what is shut in there."""
    setup = state["setup"]
    if state["tank_side"] == "open" or state["outer"] == "open" or state["bleed"]:
        return 0.0
    if state["isolation"] > 0.0:
        return over
    if state["outer"] == "stack" and state["flow_valve"] > 0.0 and not state["packed"]:
        return 0.0
    if setup["leak"] > 0.0:
        return over + (state["trapped"] - over) * math.exp(-STEP / SEEPS)
    return state["trapped"] + setup["trapped_yeast"] * share_of(state["between"], SOLIDS) * STEP


RANGES = {
    "begin": ["rehearsal scenario", "seed"],
    "step": ["rehearsal state"],
}
