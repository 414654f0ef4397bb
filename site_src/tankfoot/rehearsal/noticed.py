"""What is worth a word as it begins: a row a thing, when it is on, when it is over, its numbers.

A thing is told once as it comes on, and again only after it was over. The limits are chosen, so that most of what is
told could be seen, heard or felt; the rest is ``quiet`` in happened.toml.
"""

from tankfoot.physics.outflow import bore_area
from tankfoot.rehearsal.events import STEPS_A_SECOND, told
from tankfoot.rehearsal.liquids import SOLIDS, share_of, volume_of
from tankfoot.rehearsal.moves import wetness_of
from tankfoot.rehearsal.way_out import way_out

RUNS = 1e-5  # m3/s that are seen to run
STANDS = 1e4  # Pa shut in that matter
TURNED, BACK = 0.5, 0.7  # of solids in the glass: below the one it is beer, above the other solids again
WHIPS = 20.0  # N
LEFT = 0.3  # of the solids: so many left are worth opening again
LEAVES = 10.0  # s after an alarm in which a hand is gone
WIDE = 0.3  # of the flow valve: so far open a plug comes out at once


def noticed(state):
    """``state`` with what has just come on told, and what is over forgotten."""
    state = _closing(state)
    for code, (on, over, facts) in RULES.items():
        is_on = code in state["on"]
        if not is_on and on(state):
            state = told({**state, "on": {**state["on"], code: True}}, code, facts(state))
            if code == "colour-turned":
                state = {**state, "turned": state["steps"]}
        elif is_on and over(state):
            state = {**state, "on": {name: True for name in state["on"] if name != code}}
            if code == "colour-turned":
                state = {**state, "turned": None}
            if code == "plug":
                state = _let_go(state)
    return state


def is_open(state):
    """Whether both valves let the tank's content into the hose, whatever plugs it."""
    hangs = state["outer"] == "stack" and state["tank_side"] == "closed"
    return hangs and state["isolation"] > 0.0 and state["flow_valve"] > 0.0


def _closing(state):
    """A run that ended: in time, late, or with solids left. One that begins forgets when the last one turned."""
    now = is_open(state)
    if now == state["open"]:
        return state
    changed = {**state, "open": now}
    if now:
        on = {code: True for code in state["on"] if code != "colour-turned"}
        return {**changed, "turned": None, "overrun": 0.0, "on": on}
    if state["turned"] is None and "flowing" not in state["on"]:
        return changed
    if state["turned"] is not None:
        seconds = (state["steps"] - state["turned"]) / STEPS_A_SECOND
        code = "closed-late" if seconds > state["setup"]["late"] else "closed-in-time"
        changed = told(changed, code, {"seconds": seconds, "beer": state["overrun"]})
    if state["tank"][SOLIDS] > LEFT * state["setup"]["solids_at_first"]:
        code = "closed-early" if state["turned"] is None else "left-behind"
        return told(changed, code, {"solids_left": state["tank"][SOLIDS]})
    return told(changed, "closed", {}) if state["turned"] is None else changed


def _let_go(state):
    if state["flow_valve"] > WIDE and state["isolation"] > 0.0:
        return told(state, "burst", {"flow_valve": state["flow_valve"]})
    return told(state, "plug-let-go", {})


def hose_force(state):
    """What the jet at the hose's end pushes back with, N: rho Q^2 / A."""
    setup = state["setup"]
    return setup["density"] * state["flow"] * state["flow"] / bore_area(setup["hose_bore"])


def _turned(state):
    full = volume_of(state["glass"]) > 0.9 * state["setup"]["glass_holds"]
    return full and state["flow"] > RUNS and share_of(state["glass"], SOLIDS) < TURNED


def _pressure(state):
    return {"pressure": state["gauge"]}


def _plate(state):
    return {"pressure": state["gauge"], "plate": state["setup"]["plate"]}


def _shut_in(state):
    return state["isolation"] <= 0.0 and state["trapped"] > STANDS


RULES = {
    "flowing": (lambda s: s["flow"] > RUNS, lambda s: s["flow"] <= 0.0, lambda s: {"flow": s["flow"]}),
    "colour-turned": (
        _turned, lambda s: share_of(s["glass"], SOLIDS) > BACK, lambda s: {"solids_left": s["tank"][SOLIDS]},
    ),
    "cored": (
        lambda s: s["flow"] > 0.0 and s["core"] > 0.5 and s["tank"][SOLIDS] > 0.1 * s["setup"]["solids_at_first"],
        lambda s: s["core"] < 0.2, lambda s: {"speed": s["speed"], "solids_left": s["tank"][SOLIDS]},
    ),
    "gauge-below-zero": (lambda s: s["gauge"] < -200.0, lambda s: s["gauge"] > 500.0, _pressure),
    "vacuum-valve-opened": (lambda s: s["vacuum"] > 0.0, lambda s: s["gauge"] > 0.0, _pressure),
    "above-plate": (
        lambda s: s["gauge"] > 1.01 * s["setup"]["plate"], lambda s: s["gauge"] < 0.99 * s["setup"]["plate"], _plate,
    ),
    "relief-lifted": (lambda s: s["relief"] > 0.005, lambda s: s["gauge"] < 0.99 * s["setup"]["plate"], _pressure),
    "relief-stuck": (
        lambda s: s["setup"]["relief_sticks"] and s["gauge"] > 1.05 * s["setup"]["plate"],
        lambda s: s["gauge"] < s["setup"]["plate"], _plate,
    ),
    "trapped-pressure": (
        _shut_in, lambda s: s["trapped"] < 0.2 * STANDS or s["isolation"] > 0.0, lambda s: {"pressure": s["trapped"]},
    ),
    "trapped-climbs": (
        lambda s: _shut_in(s) and s["trapped"] > s["setup"]["plate"], lambda s: s["trapped"] < 0.2 * STANDS,
        lambda s: {"pressure": s["trapped"], "plate": s["setup"]["plate"]},
    ),
    "jet": (
        lambda s: s["jet"] > 10.0 * RUNS, lambda s: s["jet"] <= 0.0,
        lambda s: {"from": way_out(s), "flow": s["jet"], "push": s["jet_push"], "speed": s["speed"]},
    ),
    "leak-seen": (
        lambda s: s["isolation"] <= 0.0 and s["tank_side"] == "closed" and s["flow"] + s["jet"] > 0.0,
        lambda s: s["isolation"] > 0.0 or s["flow"] + s["jet"] <= 0.0, lambda s: {"flow": s["flow"] + s["jet"]},
    ),
    "tank-empty": (
        lambda s: wetness_of(s) < 0.1, lambda s: wetness_of(s) > 0.5,
        lambda s: {"beer": s["setup"]["beer_at_first"] - s["tank"][0]},
    ),
    "plug": (lambda s: s["plugged"], lambda s: not s["plugged"], lambda s: {"flow_valve": s["flow_valve"]}),
    "packed-glass": (
        lambda s: s["packed"] and is_open(s), lambda s: not s["packed"], lambda s: {"pressure": s["trapped"]},
    ),
    "bucket-over": (lambda s: s["spilt"] > RUNS, lambda s: s["spilt"] <= 0.0, lambda s: {"flow": s["spilt"]}),
    "hose-whips": (
        lambda s: s["hose"] == "loose" and hose_force(s) > WHIPS, lambda s: s["flow"] <= 0.0,
        lambda s: {"force": hose_force(s)},
    ),
    "liquid-rises": (
        lambda s: s["rises"] > 0.5 * s["setup"]["blow_lift"] and s["blow_bucket"] > 0.0,
        lambda s: s["rises"] < 0.1 * s["setup"]["blow_lift"],
        lambda s: {"height": s["rises"], "lift": s["setup"]["blow_lift"]},
    ),
    "sucked-back": (
        lambda s: s["blow_bucket"] < 0.99 * s["setup"]["blow_water"], lambda s: False,
        lambda s: {"volume": s["setup"]["blow_water"] - s["blow_bucket"]},
    ),
    "stayed": (
        lambda s: s["alarm"] is not None and not s["away"] and s["steps"] - s["alarm"] > LEAVES * STEPS_A_SECOND,
        lambda s: False, lambda s: {"seconds": LEAVES},
    ),
    "unwatched": (
        lambda s: s["away"] and s["flow"] + s["jet"] > RUNS, lambda s: not s["away"],
        lambda s: {"flow": s["flow"] + s["jet"]},
    ),
}

RANGES = {
    "noticed": ["rehearsal state on borders"],
    "is_open": ["rehearsal state"],
    "hose_force": ["rehearsal state"],
}
