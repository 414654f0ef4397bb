"""Simulated tanks in the middle of something, and what a hand does to them, drawn at random."""

import random
from functools import cache

from tankfoot.physics.fermentation import lift_pressure
from tankfoot.physics.gas import co2_density
from tankfoot.physics.vessel import cone_volume
from tankfoot.rehearsal.acts import CHOICES, NUMBERS, act
from tankfoot.rehearsal.model import STEP, begin, step
from tankfoot.rehearsal.moves import headspace_of, overpressure_of, pressure_of, rates
from tankfoot.rehearsal.scenarios import scenarios
from tankfoot.rehearsal.setup import HOLDS
from tankfoot.tanks.shape import tank_shape

STATES, MOST_STEPS = 160, 60
OPENINGS = (0.0, 0.0, 1.0, 0.25, 0.05)


def scenario(rng):
    """A scenario as the browser has it, at times another in its numbers."""
    whole = rng.choice(list(scenarios().values()))
    made = {key: value for key, value in whole.items() if key not in ("right", "wrong")}
    if rng.random() < 0.5:
        made |= {
            "leak": rng.choice((0.0, 0.02)), "relief_sticks": rng.random() < 0.5, "fall": rng.choice((0.0, 3.5e-5)),
            "vacuum_valve": rng.choice((None, 3000.0)), "gauge_band": rng.choice((0.0, 2e4)),
            "trapped_yeast": rng.choice((0.0, 800.0)), "bucket_holds": rng.choice((0.005, 0.06)),
        }
        if rng.random() < 0.4:
            made |= {"blow_off": {"dip": 0.2, "lift": rng.choice((0.5, 1.2)), "water": 0.015}}
            made["begins"] = made["begins"] | {"blow_off": 1.0}
        made["tank"] = made["tank"] | {"pressure": rng.choice((0.0, 2000.0, 7e4, 1.1e5, rng.uniform(0.0, 1.3e5)))}
        made["solids"] = made["solids"] | {"plugs": rng.choice((0.0, 200.0)), "share": rng.choice((0.0, 0.02, 0.2))}
    return made


def can_be_or_not(rng):
    """One whose tank is as full as can be, or has as little in it, to the bit, or a little more so."""
    made = scenario(rng)
    made["blow_off"] = made["blow_off"] | {"water": rng.choice((0.0, 0.015))}
    whole = tank_shape(made["tank"] | {"beer_volume": 0.0})
    solids = made["solids"]["share"] * cone_volume(made["tank"]["diameter"], whole["cone"])
    beer = rng.choice((whole["total"] - 0.03, whole["total"] - 0.045, 2.0 * solids + 0.03, 0.5 * whole["total"]))
    more = {"beer_volume": beer + rng.choice((0.0, 0.0, 0.001, -0.001, 0.02))}
    if rng.random() < 0.3:
        name, (low, high) = rng.choice(list(HOLDS.items()))
        more[name] = rng.choice((low, high)) * rng.choice((1.0, 1.001, 0.999))
    return [made | {"tank": made["tank"] | more}]


def act_row(rng):
    """An act as a row; mostly what a purge is made of."""
    name = rng.choice(("isolation", "flow-valve", *NUMBERS, *CHOICES))
    if name in NUMBERS:
        return {"act": name, "to": NUMBERS[name] * rng.choice((*OPENINGS, rng.random()))}
    return {"act": name, "to": rng.choice(CHOICES[name])}


def after(rng, state, most):
    """``state`` after some acts with some steps between them."""
    for _ in range(rng.randint(0, 5)):
        state = act(state, act_row(rng))
        for _ in range(rng.randint(0, most)):
            state = step(state)
    return state


@cache
def _states():
    rng = random.Random("simulated tanks")
    made = []
    for number in range(STATES):
        begun = begin(scenario(rng), str(number))
        if rng.random() < 0.6:
            begun = {**begun, "isolation": 1.0, "flow_valve": rng.choice((0.08, 0.5, 1.0))}
        if rng.random() < 0.1:
            side = rng.choice(("open", "closed"))
            begun = {**begun, "tank": [rng.choice((0.002, 0.0005)), 0.0005, 0.0], "tank_side": side}
        made.append(after(rng, begun, MOST_STEPS // 5))
    return made


def state(rng):
    """One in the middle of something, at times with another act just done, at times on the border of something."""
    made = rng.choice(_states())
    if rng.random() < 0.3:
        made = act(made, act_row(rng))
    if rng.random() < 0.3:
        made = at_gauge(made, _gauge_at_a_border(rng, made["setup"]))
    if rng.random() < 0.4:
        limits = _limits(made["setup"])
        made = {**made, **{name: rng.choice(limits[name]) for name in rng.sample(sorted(limits), rng.randint(1, 5))}}
    return made


def on_borders(rng):
    """A state with many of its members on the border of something."""
    made = state(rng)
    limits = _limits(made["setup"])
    return {**made, **{name: rng.choice(limits[name]) for name in rng.sample(sorted(limits), rng.randint(6, 16))}}


def at_gauge(made, gauge):
    """The same with so much gas that its gauge would stand there, once it does."""
    setup = made["setup"]
    density = co2_density(max(1000.0, gauge + setup["air_pressure"]), made["gas_temperature"])
    return {**made, "co2": density * headspace_of(made), "air": 0.0, "gauge": gauge}


def _gauge_at_a_border(rng, setup):
    lift, dip = (lift_pressure(setup[name], setup["density"]) for name in ("blow_lift", "blow_dip"))
    borders = (0.0, -200.0, 500.0, setup["plate"], -lift, dip, -(setup["vacuum_valve"] or 3000.0), 7e4)
    return rng.choice(borders) + rng.choice((0.0, 0.05, -0.05, 20.0, -20.0, 300.0, -300.0))


def _limits(setup):
    """Values of a state's members between two of which something begins or ends."""
    plate, solids, lift = setup["plate"], setup["solids_at_first"], setup["blow_lift"]
    return {
        "trapped": (0.0, 2000.0, 2000.05, 1e4, 1e4 + 0.5, plate), "jet": (0.0, 1e-5, 1e-4), "flow": (0.0, 1e-5, 0.003),
        "blow_off": (0.0, 0.05, 1.0), "blow_bucket": (0.0, 0.001, 0.99 * setup["blow_water"]), "isolation": (0.0, 0.5),
        "flow_valve": (0.0, 0.3, 0.31), "rises": (0.0, 0.5 * lift, 0.1 * lift), "core": (0.0, 0.5, 0.2, 1.0),
        "gauge": (-200.0, 500.0, plate, 1.01 * plate, 1.015 * plate, 0.99 * plate, 1.05 * plate), "spilt": (0.0, 1e-5),
        "relief": (0.0, 0.005, 0.5), "vacuum": (0.0, 0.5), "jet_push": (0.0, 50.0, 50.05), "plugged": (True, False),
        "tank": ([0.5, 0.1 * solids, 0.0], [0.5, 0.3 * solids, 0.0]), "overrun": (0.0, 0.004),
        "steps": (150, 200, 201, 400), "alarm": (None, 0), "away": (True, False), "turned": (None, 100),
        "open": (True, False), "outer": ("stack", "open", "cap"), "hose": ("loose", "drain"), "packed": (True, False),
        "on": ({}, {"plug": True}, {"flowing": True}, {"colour-turned": True, "cored": True, "jet": True},
               {"gauge-below-zero": True, "above-plate": True, "relief-lifted": True, "trapped-pressure": True}),
    }


def liquids(rng):
    return [rng.choice((0.0, rng.uniform(0.0, 0.5), rng.uniform(0.0, 2.0))) for _ in range(3)]


def passing(rng):
    """A pipe, what is in it, what comes: at times it is full to the brim then, to the bit."""
    content, inflow = rng.choice((liquids(rng), [0.0, 0.25, 0.0])), rng.choice((liquids(rng), [0.5, 0.25, 0.0]))
    return [rng.choice((rng.uniform(0.01, 3.0), 1.0)), content, inflow]


def speed(rng):
    made = state(rng)
    over = rng.choice((overpressure_of(made), rng.uniform(-1000.0, 2e5), 50.0, 100.0, 0.0))
    return [_open(rng, made), rng.choice(("hose", "outer", "tank-side")), over, rng.choice((0.0, 1.0, rng.random()))]


def _open(rng, made):
    return {**made, "isolation": rng.uniform(0.01, 1.0), "flow_valve": rng.uniform(0.01, 1.0)}


def nearly_drinking(rng):
    """A tank that is about to drink from its blow-off bucket, or has just begun to."""
    made = rng.choice([one for one in _states() if one["setup"]["blow_lift"] > 0.0])
    made = {**made, "blow_off": 1.0, "pipe_end": "in", "blow_bucket": 0.01}
    return at_gauge(made, -lift_pressure(made["setup"]["blow_lift"], made["setup"]["density"]) - rng.uniform(0.0, 0.1))


def moving(rng):
    made = nearly_drinking(rng) if rng.random() < 0.1 else state(rng)
    return [made, made, rates(made), rng.choice((STEP, 0.5 * STEP))]


def act_and_where(rng):
    any_other = rng.choice(("isolation", "hose", "gas", "sink")), rng.choice((0.5, 1.5, -0.1, True, "drain", None))
    row = act_row(rng)
    return rng.choice(([row["act"], row["to"]], list(any_other)))


def felt(rng):
    """An act that a hand feels where something pushes, just enough or not quite."""
    made, row = state(rng), rng.choice((
        {"act": "bleed", "to": True}, {"act": "outer", "to": "open"}, {"act": "gauge", "to": "tapped"},
        {"act": "outer", "to": "cap"}, {"act": "tank-side", "to": "closed"},
    ))
    stands = pressure_of(made) - made["setup"]["air_pressure"]
    return [{
        **made, "isolation": rng.choice((0.0, 0.0, 1.0)), "trapped": rng.choice((2000.0, 2000.05, 3000.0)),
        "needle": stands + rng.choice((1999.0, 2000.05, -2000.05)), "jet_push": rng.choice((50.0, 50.05)),
        "outer": rng.choice(("open", "stack")), "tank_side": rng.choice(("open", "closed")),
    }, row]


def wanted(rng):
    """A state and what is wanted of it, at times to the bit what it has."""
    made, wanted = state(rng), rng.choice(list(scenarios().values()))["done"]
    just = {"beer-lost": made["setup"]["beer_at_first"] - made["tank"][0], "gauge-from": made["gauge"],
            "gauge-to": made["gauge"], "let-down": True, "cleared": True}
    return [made, rng.choice((wanted, wanted | just))]


def script(rng):
    """A short run by a few acts."""
    acts = [{"t": rng.uniform(0.0, 4.0), **act_row(rng)} for _ in range(rng.randint(0, 6))]
    return [scenario(rng), str(rng.random()), acts, rng.choice((2.0, 5.0, 5.0, None))]


DRAWN = {
    "liquids": liquids, "rehearsal state": state, "rehearsal scenario": scenario,
    "rehearsal state on borders": on_borders, "rehearsal setup": lambda rng: state(rng)["setup"],
}
ARGUMENTS = {
    "speed of a rehearsal": speed,
    "way of a rehearsal": lambda rng: [_open(rng, state(rng)), rng.choice(("hose", "outer", "tank-side"))],
    "moved rehearsal": moving,
    "act of a rehearsal and where to": act_and_where,
    "act of a rehearsal": lambda rng: rng.choice(([state(rng), act_row(rng)], felt(rng))),
    "scripted rehearsal": script,
    "what is wanted of a state": wanted,
    "liquids that pass": passing,
    "scenario that can be": can_be_or_not,
}
