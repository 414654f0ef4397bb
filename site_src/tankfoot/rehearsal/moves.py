"""How tank and headspace move in a short time: liquid out, gas in and out, heat. Rates first, then what they do.

``rates`` is the right side of the equations, ``moved`` takes it over some seconds. What comes near to rest within one
step, as a small headspace under an open vent does, is stopped there instead of swinging across it.
"""

import math

from tankfoot.physics.fermentation import lift_pressure
from tankfoot.physics.gas import CO2_MOLAR_MASS, GAS_CONSTANT
from tankfoot.physics.outflow import SHORT_TUBE_COEFFICIENT, bore_area, exit_speed, port_overpressure
from tankfoot.rehearsal.gas_space import (
    AIR_MOLAR_MASS,
    air_density,
    exchange,
    expansion_pressure,
    gas_pressure,
    heat_capacity,
)
from tankfoot.rehearsal.liquids import SOLIDS, WATER, drawn_of, taken, volume_of
from tankfoot.rehearsal.solids import solids_share
from tankfoot.rehearsal.way_out import (
    gas_coefficient,
    glug_flow,
    jet_coefficient,
    liquid_level,
    port_speed,
    way_out,
)

WARMS = 45.0  # s in which the gas loses all but 1/e of its difference to the tank; assumed, methods.md
WET = 2.0  # bores' lengths of liquid (m) above an open port from which gas begins to come with it; chosen
DROOP = 1e4  # Pa below the regulator's pressure at which it gives all it can; chosen
RELIEF_BORE, VENT_BORE, PIPE_BORE, VACUUM_BORE = 0.02, 0.02, 0.025, 0.05  # m; chosen
LIFTS_WITHIN = 0.1  # of its set pressure above that, a relief valve stands wide open; chosen
VACUUM_WITHIN = 500.0  # Pa in which a vacuum valve opens; chosen


def pressure_of(state):
    """Absolute pressure of the headspace, Pa."""
    return gas_pressure(state["co2"], state["air"], headspace_of(state), state["gas_temperature"])


def headspace_of(state):
    """Volume of the headspace, m3."""
    return state["setup"]["total"] - volume_of(state["tank"])


def overpressure_of(state):
    """Pressure at the port above the outside air, Pa: that of the gas and of the liquid above it."""
    setup = state["setup"]
    level = liquid_level(setup, volume_of(state["tank"]))
    return port_overpressure(pressure_of(state) - setup["air_pressure"], level, setup["density"])


def wetness_of(state):
    """1 while liquid covers the port, less as the last of it runs out."""
    return min(1.0, volume_of(state["tank"]) / (bore_area(state["setup"]["bore"]) * WET))


def rates(state):
    """What goes where in a second: liquids in m3, gas in kg; below nothing where air comes in instead."""
    setup, absolute, over = state["setup"], pressure_of(state), overpressure_of(state)
    outside, way, wet = setup["air_pressure"], way_out(state), wetness_of(state)
    share = solids_share(state["core"], state["tank"][SOLIDS], setup["solids_at_first"])
    speed = port_speed(state, way, over, share) * wet if way else 0.0
    glug = glug_flow(setup["bore"], over) * jet_coefficient(state, way) * wet if way in ("tank-side", "outer") else 0.0
    density = (state["co2"] + state["air"] * AIR_MOLAR_MASS) / headspace_of(state)

    def through(bore, against):
        coming = density if absolute > against else air_density(against, setup["room_temperature"])
        return exchange(absolute, against, coming, bore)

    widens = gas_coefficient(state, way) / SHORT_TUBE_COEFFICIENT if way else 0.0
    port = widens * (1.0 - wet) * through(setup["bore"], outside)
    water, pipe = _pipe(state, absolute, through)
    return {
        "liquid": bore_area(setup["bore"]) * speed, "glug": glug, "speed": speed, "share": share,
        "supply": supply(state, absolute - outside), "made": setup["made"],
        "vent": through(VENT_BORE, outside) * state["vent"],
        "port": port, "pipe": pipe, "water": water,
        "relief": relief_lift(state, absolute - outside) * max(0.0, through(RELIEF_BORE, outside)),
        "vacuum": vacuum_lift(state, absolute - outside) * min(0.0, through(VACUUM_BORE, outside)),
        "glug_air": glug * air_density(outside, setup["room_temperature"]),
    }


def supply(state, gauge):
    """CO2 from the gas line, kg/s: all that it gives, less within 0.1 bar of what the regulator is set to."""
    if not state["gas"]:
        return 0.0
    return state["setup"]["max_flow"] * min(1.0, max(0.0, (state["regulator"] - gauge) / DROOP))


def relief_lift(state, gauge):
    """How far the relief valve is open, 0 to 1; it opens at the plate's pressure, and never where it sticks."""
    plate = state["setup"]["plate"]
    if state["setup"]["relief_sticks"]:
        return 0.0
    return min(1.0, max(0.0, (gauge - plate) / (LIFTS_WITHIN * plate)))


def vacuum_lift(state, gauge):
    """How far the vacuum valve is open, 0 to 1."""
    opens = state["setup"]["vacuum_valve"]
    return 0.0 if opens is None else min(1.0, max(0.0, (-opens - gauge) / VACUUM_WITHIN))


def lifted(state, gauge):
    """Height to which liquid stands in the blow-off pipe above its bucket, m; 0 where it does not stand in it."""
    if state["blow_off"] <= 0.0 or state["pipe_end"] == "clear":
        return 0.0
    return max(0.0, -gauge) / lift_pressure(1.0, state["setup"]["density"])


def _pipe(state, absolute, through):
    """(water m3/s into the tank, gas kg/s out of it) through the blow-off pipe: bubbling, standing, sucked back."""
    setup = state["setup"]
    if state["blow_off"] <= 0.0:
        return 0.0, 0.0
    outside = setup["air_pressure"]
    pushes = outside + lift_pressure(setup["blow_dip"], setup["density"])
    if state["pipe_end"] == "clear" or state["blow_bucket"] <= 0.0:
        return 0.0, state["blow_off"] * through(PIPE_BORE, outside)
    if absolute > pushes:
        return 0.0, state["blow_off"] * through(PIPE_BORE, pushes)
    missing = outside - lift_pressure(setup["blow_lift"], setup["density"]) - absolute
    if missing <= 0.0:
        return 0.0, 0.0
    return state["blow_off"] * bore_area(PIPE_BORE) * exit_speed(missing, setup["density"]), 0.0


def moved(state, at, rate, seconds):
    """``state`` some ``seconds`` on by the ``rate`` that holds in the state ``at``; ``drawn`` is what left the port."""
    setup, temperature, outside = state["setup"], state["gas_temperature"], state["setup"]["air_pressure"]
    water = min(rate["water"] * seconds, state["blow_bucket"], _until_rest(state, setup["blow_lift"], -1.0))
    draw = min(rate["liquid"] * seconds, _until_rest(state, None, 1.0)) + rate["glug"] * seconds
    drawn = drawn_of(state["tank"], draw, rate["share"])
    tank = taken(state["tank"], drawn)
    tank[WATER] += water
    headspace = setup["total"] - volume_of(tank)
    made = rate["made"] * seconds
    grown = gas_pressure(state["co2"] + made, state["air"], headspace, temperature)
    to_set = (state["regulator"] + outside - grown) * headspace * CO2_MOLAR_MASS / (GAS_CONSTANT * temperature)
    supplied = min(rate["supply"] * seconds, max(0.0, to_set))
    filled = gas_pressure(state["co2"] + made + supplied, state["air"], headspace, temperature)
    leaves = _leaving(state, rate, seconds, filled)
    enters = _entering(state, rate, seconds, (headspace, filled))
    co2, air = (state["co2"] + made + supplied), state["air"]
    lost, air_lost = co2 * leaves, air * leaves
    out = lost / CO2_MOLAR_MASS + air_lost
    capacity = heat_capacity(at["co2"], at["air"], at["gas_temperature"])
    per_mole = capacity / (at["co2"] / CO2_MOLAR_MASS + at["air"])

    def brings(moles, its_temperature):
        return moles * (per_mole * (its_temperature - at["gas_temperature"]) + GAS_CONSTANT * its_temperature)

    work = expansion_pressure(pressure_of(at), at["gas_temperature"]) * (headspace - headspace_of(state))
    heat = (brings(supplied / CO2_MOLAR_MASS + enters, setup["room_temperature"])
            + brings(made / CO2_MOLAR_MASS, setup["temperature"]) - out * GAS_CONSTANT * at["gas_temperature"] - work)
    warmed = (setup["temperature"] - at["gas_temperature"]) / WARMS * seconds
    return {
        **state, "tank": tank, "drawn": drawn, "co2": co2 - lost, "air": air - air_lost + enters,
        "gas_temperature": temperature + heat / capacity + warmed, "blow_bucket": state["blow_bucket"] - water,
        "co2_made": state["co2_made"] + made, "co2_supplied": state["co2_supplied"] + supplied,
        "co2_lost": state["co2_lost"] + lost, "air_in": state["air_in"] + enters,
        "air_lost": state["air_lost"] + air_lost,
    }


def _until_rest(state, lift, sign):
    """Volume (m3) by which the headspace may grow (``sign`` 1) or shrink (-1) until nothing pushes any more."""
    setup = state["setup"]
    height = liquid_level(setup, volume_of(state["tank"])) if lift is None else lift
    rest = setup["air_pressure"] - lift_pressure(height, setup["density"])
    if rest <= 0.0:
        return math.inf
    return max(0.0, sign * headspace_of(state) * (pressure_of(state) / rest - 1.0))


def _leaving(state, rate, seconds, absolute):
    """Share of the gas that leaves, no more than until the lowest pressure that it leaves against."""
    setup = state["setup"]
    outside, dip = setup["air_pressure"], lift_pressure(setup["blow_dip"], setup["density"])
    against = {"vent": outside, "port": outside, "pipe": outside + dip, "relief": outside + setup["plate"]}
    goes = [name for name in against if rate[name] > 0.0]
    if not goes:
        return 0.0
    mass = sum(rate[name] for name in goes) * seconds
    most = max(0.0, 1.0 - min(against[name] for name in goes) / absolute)
    return min(mass / (state["co2"] + state["air"] * AIR_MOLAR_MASS), most)


def _entering(state, rate, seconds, space):
    """Air that comes in, mol, no more than until the highest pressure that it comes in from."""
    headspace, absolute = space
    outside, opens = state["setup"]["air_pressure"], state["setup"]["vacuum_valve"] or 0.0
    rest = {"vent": outside, "port": outside, "pipe": outside, "vacuum": outside - opens}
    comes = [name for name in rest if rate[name] < 0.0]
    glug = rate["glug_air"] * seconds / AIR_MOLAR_MASS
    if not comes:
        return glug
    amount = -sum(rate[name] for name in comes) * seconds / AIR_MOLAR_MASS
    most = (max(rest[name] for name in comes) - absolute) * headspace / (GAS_CONSTANT * state["gas_temperature"])
    return glug + min(amount, max(0.0, most))


RANGES = {
    "pressure_of": ["rehearsal state"],
    "headspace_of": ["rehearsal state"],
    "overpressure_of": ["rehearsal state"],
    "wetness_of": ["rehearsal state"],
    "rates": ["rehearsal state"],
    "supply": ["rehearsal state", (-2e4, 3e5)],
    "relief_lift": ["rehearsal state", (-2e4, 3e5)],
    "vacuum_lift": ["rehearsal state", (-2e4, 3e5)],
    "lifted": ["rehearsal state", (-3e4, 3e5)],
    "moved": "moved rehearsal",
}
