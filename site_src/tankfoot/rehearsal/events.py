"""What happened: said once as it happens, with its instant and its numbers."""

STEPS_A_SECOND = 20.0

def time_of(state):
    """Seconds since it began: steps of a twentieth.

    >>> time_of({"steps": 30})
    1.5
    """
    return state["steps"] / STEPS_A_SECOND


def told(state, code, facts):
    """``state`` with one thing more that happened."""
    return {**state, "happened": [*state["happened"], {"t": time_of(state), "happened": code, "facts": facts}]}


def cannot(state, reason):
    """``state`` as it was, but for the word that an act could not be done, and why."""
    return told(state, "cannot", {"reason": reason})


RANGES = {
    "time_of": ["rehearsal state"],
    "told": ["rehearsal state", ["jet", "plug"], [{}, {"flow": 0.002}]],
    "cannot": ["rehearsal state", ["jet", "isolation-open"]],
}
