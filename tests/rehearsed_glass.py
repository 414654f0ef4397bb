"""The sight glass of a simulated tank before the camera of glass.py: what is in it is the tank's, not a front's."""

import random
from itertools import pairwise

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
    course, fill = course_of(scenarios()[name], str(seed))
    made = Scene(kind, [varied(rng, solids)], varied(rng, beer), fill=fill, course=course)
    made.change = change_in(course)
    made.end, made.grain = (len(course) - 1) / RATE, rng.uniform(0.008, 0.03)
    return made, samples_of(made, rng)


def change_in(course):
    """When half of what is in the glass is beer for the first time, s; None where it never is."""
    turns = ((i, a, b) for i, (a, b) in enumerate(pairwise(course)) if a < 0.5 <= b)
    return next(((i + (0.5 - a) / (b - a)) / RATE for i, a, b in turns), None)


def course_of(scenario, seed, opening=SLOWLY, until=None):
    """(share of beer in the glass, five a second from the instant that the flow valve opened, s until it is full).

    ``until`` (s), else some seconds after the turn.
    """
    state = {**begin(scenario, seed), "isolation": 1.0, "flow_valve": opening}
    course, fill = [], None
    while len(course) <= until * RATE if until else not _is_over(state):
        if state["steps"] % (STEPS_A_SECOND / RATE) == 0:
            course.append(share_of(state["glass"], BEER))
        state = step(state)
        if fill is None and volume_of(state["glass"]) > 0.99 * state["setup"]["glass_holds"]:
            fill = state["steps"] / STEPS_A_SECOND
    return course, fill


def _is_over(state):
    return state["turned"] is not None and state["steps"] - state["turned"] >= AFTER_THE_TURN * STEPS_A_SECOND
