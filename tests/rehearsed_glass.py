"""The sight glass of a simulated tank before the camera of glass.py: what is in it is the tank's, not a front's."""

import random

from glass import AMBER, CREAM, GOLD, HAZY, HOPS, RATE, TRUB, Scene, samples_of, varied
from tankfoot.rehearsal.events import STEPS_A_SECOND
from tankfoot.rehearsal.liquids import BEER, share_of, volume_of
from tankfoot.rehearsal.model import begin, step
from tankfoot.rehearsal.scenarios import scenarios

SLOWLY, AFTER_THE_TURN = 0.06, 7.0  # how far the flow valve is open, s that the camera goes on
# A scenario, what settles in its tank, the beer above it.
REHEARSED = {
    "trub": ("plain-trub", TRUB, GOLD),
    "yeast": ("yeast-after-harvest", CREAM, AMBER),
    "hops that plug": ("hops-that-plug", HOPS, HAZY),
}


def rehearsed_series(kind, seed):
    """(Scene, samples) of a run of REHEARSED."""
    name, solids, beer = REHEARSED[kind]
    rng = random.Random(f"{seed} rehearsed {kind}")
    course, fill = _course(name, str(seed))
    made = Scene(kind, [varied(rng, solids)], varied(rng, beer), fill=fill, course=course)
    made.change = next(i for i, share in enumerate(course) if share >= 0.5) / RATE
    made.end, made.grain = (len(course) - 1) / RATE, rng.uniform(0.008, 0.03)
    return made, samples_of(made, rng)


def _course(name, seed):
    """(share of beer in the glass, five a second from the instant that the flow valve opened, s until it is full)."""
    state = {**begin(scenarios()[name], seed), "isolation": 1.0, "flow_valve": SLOWLY}
    course, fill = [], None
    while state["turned"] is None or state["steps"] - state["turned"] < AFTER_THE_TURN * STEPS_A_SECOND:
        if state["steps"] % (STEPS_A_SECOND / RATE) == 0:
            course.append(share_of(state["glass"], BEER))
        state = step(state)
        if fill is None and volume_of(state["glass"]) > 0.99 * state["setup"]["glass_holds"]:
            fill = state["steps"] / STEPS_A_SECOND
    return course, fill
