"""What a hand does to the tank: one row of a table an act, done at once. An act that cannot be done says why."""

from tankfoot.physics.gas import CO2_MOLAR_MASS, GAS_CONSTANT
from tankfoot.physics.outflow import force_on_cap
from tankfoot.rehearsal.events import cannot, told
from tankfoot.rehearsal.liquids import NOTHING, SOLIDS, added, drawn_of, taken, volume_of
from tankfoot.rehearsal.moves import pressure_of
from tankfoot.rehearsal.solids import solids_share
from tankfoot.rehearsal.way_out import way_out

HELD = 50.0  # N of a jet against which no hand puts a clamp back; chosen
BREATH = 2000.0  # Pa in a stack that a hand notices as a clamp comes off; chosen
NUMBERS = {"isolation": 1.0, "flow-valve": 1.0, "vent": 1.0, "blow-off": 1.0, "regulator": 3e5}  # up to so much, or Pa
CHOICES = {
    "gas": (True, False), "pipe-end": ("in", "clear"), "hose": ("bucket", "drain", "loose"), "bucket": ("emptied",),
    "outer": ("open", "stack", "cap"), "tank-side": ("open", "closed"), "bleed": (True, False), "connector": ("gas",),
    "glass": ("cleared",), "gauge": ("tapped",), "away": (True, False),
}


def is_act(name, to):
    """Whether there is an act of that ``name`` that leads ``to`` there.

    >>> is_act("isolation", 0.5), is_act("isolation", True), is_act("hose", "drain"), is_act("hose", "sink")
    (True, False, True, False)
    """
    if name in NUMBERS:
        return isinstance(to, int | float) and not isinstance(to, bool) and 0.0 <= to <= NUMBERS[name]
    return any(type(to) is type(place) and to == place for place in CHOICES.get(name, ()))


def act(state, row):
    """``state`` after the act of a ``row``, {"act": name, "to": where}; ValueError for one that is none."""
    name, to = row["act"], row["to"]
    if not is_act(name, to):
        known = ", ".join([*NUMBERS, *CHOICES])
        raise ValueError(f"{name} to {to!r} is no act: use one of {known}, and where it can go")
    does = DOES.get(name)
    return does(state, to) if does else {**state, name.replace("-", "_"): to}


def _isolation(state, to):
    turned = {**state, "isolation": to}
    opens = state["isolation"] <= 0.0 < to and state["outer"] != "open" and not state["plugged"]
    return _rises(turned) if opens and way_out(turned) is None else turned


def _rises(state):
    """The isolation valve opens on a stack that is shut below: what gas is in it rises into the tank, liquid takes its
    room. It stands in equilibrium at once.
    """
    setup = state["setup"]
    pocket = setup["between_holds"] - volume_of(state["between"])
    if pocket <= 0.0 or volume_of(state["tank"]) < 2.0 * pocket:
        return state
    absolute = setup["air_pressure"] + state["trapped"]
    amount = absolute * pocket / (GAS_CONSTANT * setup["temperature"])
    share = solids_share(state["core"], state["tank"][SOLIDS], setup["solids_at_first"])
    drawn = drawn_of(state["tank"], pocket, share)
    risen = {**state, "tank": taken(state["tank"], drawn), "between": added(state["between"], drawn)}
    if state["connector"] == "gas":
        co2 = amount * CO2_MOLAR_MASS
        return {**risen, "co2": risen["co2"] + co2, "co2_supplied": risen["co2_supplied"] + co2}
    risen = {**risen, "air": risen["air"] + amount, "air_in": risen["air_in"] + amount}
    return told(risen, "air-into-tank", {"volume": pocket * absolute / setup["air_pressure"]})


def _outer(state, to):
    if to == state["outer"]:
        return state
    if to == "open":
        return _opened(state)
    if state["outer"] != "open":
        return cannot(state, "outer-closed")
    if way_out(state) == "outer" and state["jet_push"] > HELD:
        return cannot(state, "jet")
    return {**state, "outer": to, "connector": "air", "glass": NOTHING, "pipe": NOTHING}


def _opened(state):
    """The outer clamp comes off: what is below it runs out where the hose lies, what pushes is felt."""
    setup, falls = state["setup"], added(added(state["between"], state["glass"]), state["pipe"])
    place = "drain" if state["hose"] == "drain" else "floor"
    off = {**state, "outer": "open", "between": NOTHING, "glass": NOTHING, "pipe": NOTHING, "trapped": 0.0,
           "connector": "air", place: added(state[place], falls)}
    if state["isolation"] <= 0.0 and state["trapped"] > BREATH:
        push = force_on_cap(state["trapped"], setup["bore"])
        return told(off, "trapped-let-go", {"pressure": state["trapped"], "push": push})
    return off


def _tank_side(state, to):
    if to == "closed" and state["tank_side"] == "open" and state["jet_push"] > HELD:
        return cannot(state, "jet")
    return {**state, "tank_side": to}


def _bleed(state, to):
    if to and state["isolation"] > 0.0:
        return cannot(state, "isolation-open")
    bled = {**state, "bleed": to}
    if to and state["trapped"] > BREATH:
        return told({**bled, "trapped": 0.0}, "bled", {"pressure": state["trapped"]})
    return bled


def _connector(state, _):
    if state["outer"] == "open":
        return cannot(state, "nothing-hangs")
    if state["isolation"] > 0.0:
        return cannot(state, "isolation-open")
    return {**state, "connector": "gas"}


def _glass(state, _):
    if state["outer"] != "open":
        return cannot(state, "stack-hangs")
    return {**state, "packed": False}


def _blow_off(state, to):
    turned = {**state, "blow_off": to}
    return turned if state["setup"]["blow_lift"] > 0.0 else cannot(state, "no-pipe")


def _bucket(state, _):
    return {**state, "bucket": NOTHING, "drain": added(state["drain"], state["bucket"])}


def _gauge(state, _):
    gauge = pressure_of(state) - state["setup"]["air_pressure"]
    tapped = {**state, "needle": gauge}
    if abs(gauge - state["needle"]) > BREATH:
        return told(tapped, "needle-jumped", {"before": state["needle"], "after": gauge})
    return tapped


# What does more than to stand where it was put.
DOES = {
    "isolation": _isolation, "blow-off": _blow_off, "bucket": _bucket, "outer": _outer, "tank-side": _tank_side,
    "bleed": _bleed, "connector": _connector, "glass": _glass, "gauge": _gauge,
}

RANGES = {
    "is_act": "act of a rehearsal and where to",
    "act": "act of a rehearsal",
}
