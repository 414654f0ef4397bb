"""What a purge of the invented brewery draws: played on a simulated tank, as a hand at the flow valve would."""

from dataclasses import dataclass

from tankfoot.physics.vessel import cone_height, cone_volume
from tankfoot.rehearsal.acts import act
from tankfoot.rehearsal.events import STEPS_A_SECOND
from tankfoot.rehearsal.gas_space import gas_pressure
from tankfoot.rehearsal.liquids import BEER, SOLIDS
from tankfoot.rehearsal.model import begin, step
from tankfoot.rehearsal.moves import headspace_of
from tankfoot.rehearsal.scenarios import scenarios
from tankfoot.rehearsal.setup import own_tank

LIKE = "plain-trub"  # the scenario: a shut tank at pressure, gas shut while it runs
# Whose solids behave like those of a purge.
SOLIDS_LIKE = {"trub": "plain-trub", "mixed": "plain-trub", "yeast": "yeast-after-harvest", "hops": "hops-that-plug"}
CRACKED, LOOKS = 0.03, 5  # how far a hand opens at first, s until it knows how fast that runs
LEAST, MOST = 0.01, 0.08  # of the flow valve's opening
LONGEST = 600  # s, of a draw


@dataclass
class Drawn:
    """What a purge took: s until the colour change, m3 that left the tank, Pa at the gauge once the gas is warm."""

    until_change: int
    lost: float
    gauge: float


def drawn(body, air, temperature, kind, solids, seconds, overrun, seed):
    """A Drawn by a hand that wants the ``solids`` (m3) out in so many ``seconds``, and closes ``overrun`` s too late.

    ``body`` is the tank's, at its usual pressure; ``air`` Pa. Rounded, so that no machine differs in a digit.
    """
    made = _scenario(body, air, temperature, kind, solids)
    flow = max(state["flow"] for state in _steps(_opened(made, CRACKED, seed), LOOKS))  # a plug is none
    state = _opened(made, min(MOST, max(LEAST, CRACKED * solids / (flow * seconds))), seed)
    while state["turned"] is None:
        if state["steps"] > LONGEST * STEPS_A_SECOND:
            raise ValueError(f"{body['name']}, {kind}: no colour change in {LONGEST} s")
        state = step(state)
    until_change = round(state["steps"] / STEPS_A_SECOND)
    *_, state = _steps(state, overrun)
    for name in ("flow-valve", "isolation"):
        state = act(state, {"act": name, "to": 0.0})
    warm = gas_pressure(state["co2"], state["air"], headspace_of(state), state["setup"]["temperature"])
    setup, left = state["setup"], state["tank"][BEER] + state["tank"][SOLIDS]
    lost = setup["beer_at_first"] + setup["solids_at_first"] - left
    return Drawn(until_change, round(lost, 6), round(warm - air))


def _scenario(body, air, temperature, kind, solids):
    in_cone = cone_volume(body["diameter"], cone_height(body["diameter"], body["cone_angle"]))
    of_kind = {**scenarios()[SOLIDS_LIKE[kind]]["solids"], "share": solids / in_cone}
    now = body | {"temperature": temperature, "pressure": body["hold_pressure"]}
    return own_tank({**scenarios()[LIKE], "solids": of_kind}, now, air)


def _opened(made, opening, seed):
    state = begin(made, seed)
    for name, to in (("hose", "drain"), ("isolation", 1.0), ("flow-valve", opening)):
        state = act(state, {"act": name, "to": to})
    return state


def _steps(state, seconds):
    for _ in range(round(seconds * STEPS_A_SECOND)):
        state = step(state)
        yield state
