"""A scripted run from its first act to its end."""

import math

from tankfoot.rehearsal.acts import act
from tankfoot.rehearsal.events import STEPS_A_SECOND
from tankfoot.rehearsal.model import begin, step
from tankfoot.rehearsal.seen import course_row

AFTERWARDS = 20.0  # s that a run goes on after its last act, where nobody says how long


def play(scenario, seed, acts, until):
    """{"events", "course", "state"} of a ``scenario`` by ``acts``, rows with their ``t`` (s), up to ``until`` (s).

    ``events``: {"t", "act", "to"} and {"t", "happened", "facts"} in their order; ``course``: a row a second;
    ``state``: the last one. None for ``until`` goes on for 20 s after the last act.
    """
    state, rows, course = begin(scenario, seed), sorted(acts, key=lambda row: row["t"]), []
    last = _step_of(rows[-1]["t"] + AFTERWARDS if rows else AFTERWARDS) if until is None else _step_of(until)
    events, done = [], 0
    while True:
        told = len(state["happened"])
        while done < len(rows) and _step_of(rows[done]["t"]) <= state["steps"]:
            events.append(rows[done])
            state, done = act(state, rows[done]), done + 1
        events += state["happened"][told:]
        if state["steps"] % STEPS_A_SECOND == 0:
            course.append(course_row(state))
        if state["steps"] >= last:
            return {"events": events, "course": course, "state": state}
        told = len(state["happened"])
        state = step(state)
        events += state["happened"][told:]


def _step_of(seconds):
    return math.floor(seconds * STEPS_A_SECOND + 0.5)


RANGES = {
    "play": "scripted rehearsal",
}
