"""What a hand can see and hear of the simulated tank, what counts as done, and a row of its course."""

from tankfoot.rehearsal.events import time_of
from tankfoot.rehearsal.liquids import BEER, SOLIDS, WATER, share_of, volume_of
from tankfoot.rehearsal.moves import headspace_of
from tankfoot.rehearsal.noticed import hose_force
from tankfoot.rehearsal.way_out import way_out

HANDLES = (
    "isolation", "flow_valve", "gas", "regulator", "vent", "blow_off", "pipe_end", "outer", "tank_side", "hose",
    "bleed", "away",
)


def seen(state):
    """What a hand sees and hears, SI: no number in it that no instrument, eye or ear could give.

    ``gauge`` is the needle, which may stick; ``glass`` the shares of what is in the sight glass, None once it hangs no
    more; ``jet`` None or where from, how much, how hard; ``hears`` what hisses or blows, 0 to 1, the gas in kg/s.
    """
    setup, way = state["setup"], way_out(state)
    is_jet = way in ("tank-side", "outer") and state["jet"] > 0.0
    jet = {"from": way, "flow": state["jet"], "push": state["jet_push"], "speed": state["speed"]}
    return {
        "t": time_of(state), "gauge": state["needle"], "glass": _glass(state),
        "flow": state["flow"], "hose_force": hose_force(state),
        "jet": jet if is_jet else None,
        "bucket": {"volume": volume_of(state["bucket"]), "holds": setup["bucket_holds"], "over": state["spilt"]},
        "floor": volume_of(state["floor"]),
        "hears": {"gas": state["hiss"], "relief": state["relief"], "vacuum": state["vacuum"], "vent": state["vent"]},
        "pipe": {"rises": min(state["rises"], setup["blow_lift"]), "lift": setup["blow_lift"]},
        "handles": {name: state[name] for name in HANDLES},
    }


def _glass(state):
    if state["outer"] != "stack":
        return None
    liquids = volume_of(state["glass"])
    full = min(1.0, liquids / state["setup"]["glass_holds"])
    return {
        "air": 1.0 - full, "beer": full * share_of(state["glass"], BEER),
        "solids": full * share_of(state["glass"], SOLIDS), "water": full * share_of(state["glass"], WATER),
        "kind": state["setup"]["kind"], "packed": state["packed"],
    }


def done(state, wanted):
    """[{"done": code, "met": whether}] of what is ``wanted``, {code: limit} as a scenario has it."""
    return [{"done": code, "met": DONE[code](state, limit)} for code, limit in wanted.items()]


def course_row(state):
    """One row of a run's course, SI: ``pressure`` gauge, true and not the needle's; ``glass`` the share of beer in what
    is in the sight glass, None while nothing is.
    """
    setup, glass = state["setup"], state["glass"]
    return {
        "t": time_of(state), "pressure": state["gauge"], "headspace": headspace_of(state),
        "beer_lost": setup["beer_at_first"] - state["tank"][BEER],
        "solids_out": setup["solids_at_first"] - state["tank"][SOLIDS],
        "co2_lost": state["co2_lost"], "glass": share_of(glass, BEER) if volume_of(glass) > 0.0 else None,
    }


def _shut(state, _):
    return state["isolation"] <= 0.0 and state["tank_side"] == "closed"


DONE = {
    "shut": _shut,
    "solids-left": lambda s, most: s["tank"][SOLIDS] <= most * s["setup"]["solids_at_first"],
    "beer-lost": lambda s, most: s["setup"]["beer_at_first"] - s["tank"][BEER] <= most,
    "gauge-from": lambda s, least: s["gauge"] >= least,
    "gauge-to": lambda s, most: s["gauge"] <= most,
    "let-down": lambda s, _: s["trapped"] <= 2000.0,
    "stack": lambda s, place: s["outer"] == place,
    "cleared": lambda s, _: not s["packed"],
    "gas-shut": lambda s, _: not s["gas"],
    "away": lambda s, _: s["away"],
    "happened": lambda s, codes: all(any(each["happened"] == code for each in s["happened"]) for code in codes),
    "no-mistake": lambda s, codes: not any(each["happened"] in codes for each in s["happened"]),
}

RANGES = {
    "seen": ["rehearsal state"],
    "done": "what is wanted of a state",
    "course_row": ["rehearsal state"],
}
