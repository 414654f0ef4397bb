"""Simulated tanks in the middle of something, and what a hand does to them, drawn at random."""

import random
from functools import cache

from tankfoot.rehearsal.acts import CHOICES, NUMBERS, act
from tankfoot.rehearsal.model import STEP, begin, step
from tankfoot.rehearsal.moves import overpressure_of, rates
from tankfoot.rehearsal.scenarios import scenarios

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
        made["tank"] = made["tank"] | {"pressure": rng.choice((0.0, 2000.0, 7e4, 1.1e5, rng.uniform(0.0, 1.3e5)))}
        made["solids"] = made["solids"] | {"plugs": rng.choice((0.0, 200.0)), "share": rng.choice((0.0, 0.02, 0.2))}
    return made


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
    """One in the middle of something, at times with another act just done."""
    made = rng.choice(_states())
    return act(made, act_row(rng)) if rng.random() < 0.3 else made


def liquids(rng):
    return [rng.choice((0.0, rng.uniform(0.0, 0.5), rng.uniform(0.0, 2.0))) for _ in range(3)]


def speed(rng):
    made = state(rng)
    over = rng.choice((overpressure_of(made), rng.uniform(-1000.0, 2e5), 50.0, 100.0, 0.0))
    return [_open(rng, made), rng.choice(("hose", "outer", "tank-side")), over, rng.choice((0.0, 1.0, rng.random()))]


def _open(rng, made):
    return {**made, "isolation": rng.uniform(0.01, 1.0), "flow_valve": rng.uniform(0.01, 1.0)}


def moving(rng):
    made = state(rng)
    return [made, made, rates(made), rng.choice((STEP, 0.5 * STEP))]


def act_and_where(rng):
    any_other = rng.choice(("isolation", "hose", "gas", "sink")), rng.choice((0.5, 1.5, -0.1, True, "drain", None))
    row = act_row(rng)
    return rng.choice(([row["act"], row["to"]], list(any_other)))


def wanted(rng):
    scenario = rng.choice(list(scenarios().values()))
    return scenario["done"]


def script(rng):
    """A short run by a few acts."""
    acts = [{"t": rng.uniform(0.0, 4.0), **act_row(rng)} for _ in range(rng.randint(0, 6))]
    return [scenario(rng), str(rng.random()), acts, rng.choice((2.0, 5.0))]


DRAWN = {
    "liquids": liquids, "rehearsal state": state, "rehearsal scenario": scenario, "what is wanted": wanted,
    "rehearsal setup": lambda rng: state(rng)["setup"],
}
ARGUMENTS = {
    "speed of a rehearsal": speed,
    "way of a rehearsal": lambda rng: [_open(rng, state(rng)), rng.choice(("hose", "outer", "tank-side"))],
    "moved rehearsal": moving,
    "act of a rehearsal and where to": act_and_where,
    "act of a rehearsal": lambda rng: [state(rng), act_row(rng)],
    "scripted rehearsal": script,
}
