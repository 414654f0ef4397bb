"""The scenarios: files in ``scenarios/``, checked as they are read and turned into SI.

A quantity is a text with its unit, "0.7 bar". What a scenario leaves out is as in DEFAULTS. Its words are in
``wording/en/rehearsal.toml`` under its name, the file's.
"""

import tomllib
from functools import cache
from importlib.resources import files

from tankfoot.physics.vessel import cone_height, head_volume, straight_volume
from tankfoot.quantities.text import RefusedText, read_quantity
from tankfoot.quantities.units import KINDS
from tankfoot.rehearsal.acts import CHOICES, NUMBERS, is_act
from tankfoot.rehearsal.seen import DONE
from tankfoot.rehearsal.setup import can_be

HERE = files(__package__)
DAY, MINUTE = 86400.0, 60.0
LONGEST = 7200.0  # s
REQUIRED = object()

# {name: (kind of quantity, or the type, or the words it may be; what it is where it is left out)}
MEMBERS = {
    "order": (int, REQUIRED), "tank": (str, REQUIRED), "solids": (str, REQUIRED), "share": ("share", REQUIRED),
    "pressure": ("gauge_pressure", REQUIRED), "filled": ("share", None), "temperature": ("temperature", "12 °C"),
    "room_temperature": ("temperature", "18 °C"), "air_pressure": ("absolute_pressure", "101.325 kPa"),
    "density": ("density", "1010 kg/m³"), "viscosity": ("viscosity", "2 mPa·s"), "hose_length": ("hose_length", "3 m"),
    "bucket_holds": ("bucket_volume", "60 L"), "leak": ("share", "0 %"), "gauge_band": ("gauge_pressure", "0 bar"),
    "max_flow": ("gas_flow", "30 kg/h"), "late": ("duration", "5 s"), "fall": (float, 0.0),
    "trapped_yeast": ("gauge_pressure", "0 bar"), "vacuum_valve": ("gauge_pressure", None),
    "relief_sticks": (bool, False), "own_tank": (bool, False),
    "blow_off": (dict, {}), "begins": (dict, {}), "happens": (list, []), "mistakes": (list, []),
    "done": (dict, REQUIRED),
    "right": (list, REQUIRED), "wrong": (list, REQUIRED),
}
BLOW_OFF = {"dip": ("length", "0 mm"), "lift": ("head", "0 m"), "water": ("bucket_volume", "0 L")}
BEGINS = {
    "isolation": (float, 0.0), "flow_valve": (float, 0.0), "gas": (bool, False),
    "regulator": ("gauge_pressure", "0.7 bar"),
    "outer": (("stack", "cap"), "stack"), "hose": (("bucket", "drain", "loose"), "bucket"), "blow_off": (float, 0.0),
    "trapped": ("gauge_pressure", None), "needle": ("gauge_pressure", None), "packed": (bool, False),
}
WANTED = {
    "solids-left": "share", "beer-lost": "bucket_volume", "gauge-from": "gauge_pressure", "gauge-to": "gauge_pressure",
}
WRONG = {"name": (str, REQUIRED), "shows": (str, REQUIRED), "acts": (list, REQUIRED), "until": (float, None)}
OF_SOLIDS = {"viscosity": ("viscosity", REQUIRED), "follows": ("speed", REQUIRED), "plugs": (float, REQUIRED),
             "lets_go": ("duration", REQUIRED)}
OF_TANK = {"diameter": ("head", REQUIRED), "straight_height": ("head", REQUIRED), "cone_angle": ("angle", REQUIRED),
           "head_depth": ("head", REQUIRED), "bore": ("bore", REQUIRED), "rated_pressure": ("gauge_pressure", REQUIRED),
           "filled": ("share", REQUIRED)}
# {a fact of what happened: the kind of quantity it is}; what is no quantity stands in for itself.
FACTS = {
    "pressure": "gauge_pressure", "plate": "gauge_pressure", "before": "gauge_pressure", "after": "gauge_pressure",
    "solids_left": "bucket_volume", "beer": "bucket_volume", "volume": "bucket_volume", "flow": "beer_flow",
    "push": "force", "force": "force", "speed": "speed", "seconds": "duration", "height": "head", "lift": "head",
    "flow_valve": "share",
}
HAPPENS = {"at": (float, REQUIRED), "what": (("alarm", "phone"), REQUIRED)}
ACT = {"t": (float, REQUIRED), "act": ((*NUMBERS, *CHOICES), REQUIRED), "to": (object, REQUIRED)}


class ScenarioError(Exception):
    """A scenario that cannot be played: in which file, what is wrong, what to do."""


@cache
def scenarios():
    """{name: scenario}, in their order: what ``begin`` and ``play`` take, and ``right`` and ``wrong`` acts."""
    folder = HERE / "scenarios"
    names = [path.name.removesuffix(".toml") for path in folder.iterdir() if path.name.endswith(".toml")]
    made = [scenario(name, _read(f"scenarios/{name}.toml")) for name in names]
    return {each["name"]: each for each in sorted(made, key=lambda each: (each["order"], each["name"]))}


@cache
def happened():
    """{code: {"mistake", "quiet", "signal", "card"}} of what can happen, as the head of happened.toml says."""
    plain = {"mistake": False, "quiet": False, "signal": None, "card": None}
    return {code: plain | row for code, row in _read("happened.toml").items()}


def scenario(name, data):
    """The scenario of a ``name`` from the parsed content of its file, or a ScenarioError."""
    file = f"scenarios/{name}.toml"
    made = _members(data, MEMBERS, file)
    tank = _tank(made.pop("tank"), made, file)
    solids = _named("solids", made["solids"], OF_SOLIDS, file)
    made |= {
        "name": name, "tank": tank, "solids": {"kind": made["solids"], "share": made.pop("share"), **solids},
        "fall": made["fall"] / DAY, "trapped_yeast": made["trapped_yeast"] / MINUTE,
        "blow_off": _members(made["blow_off"], BLOW_OFF, f"{file}, blow_off"),
        "begins": _members(made["begins"], BEGINS, f"{file}, begins"),
        "happens": [_members(row, HAPPENS, f"{file}, happens") for row in made["happens"]],
        "done": _wanted(made["done"], made.pop("mistakes"), file),
        "right": rows_of_acts(made["right"], f"{file}, right"),
        "wrong": dict(_wrong(row, f"{file}, wrong") for row in made["wrong"]),
    }
    if not can_be(made):
        raise ScenarioError(f"{file}: holds too little beer or hardly any headspace: change filled or share.")
    return made


def rows_of_acts(rows, place):
    """Acts as ``play`` takes them, or a ScenarioError that names the ``place``."""
    if not isinstance(rows, list):
        raise ScenarioError(f"{place}: is no list of acts: write a row for each, with t, act and to.")
    return [_act(row, f"{place}, act {number}") for number, row in enumerate(rows, 1)]


def _act(row, place):
    made = _members(row, ACT, place)
    name, to = made["act"], made["to"]
    if not is_act(name, to):
        can = f"0 to {NUMBERS[name]:g}" if name in NUMBERS else " or ".join(map(str, CHOICES[name]))
        raise ScenarioError(f"{place}: {name} cannot go to {to!r}: use {can}.")
    if not 0.0 <= made["t"] <= LONGEST:
        raise ScenarioError(f"{place}: {made['t']:g} is no time in a rehearsal: use 0 to {LONGEST:g} s.")
    return made


def _tank(name, made, file):
    """The body of an invented tank, as the record has one, filled as the scenario says."""
    tank = _named("tanks", name, OF_TANK, file)
    filled, angle = made.pop("filled") or tank.pop("filled"), tank["cone_angle"]
    tank.pop("filled", None)
    below = straight_volume(tank["diameter"], cone_height(tank["diameter"], angle), tank["straight_height"])
    total = below + head_volume(tank["diameter"], tank["head_depth"])
    return tank | {"head_volume": None, "beer_volume": filled * total, "temperature": made.pop("temperature"),
                   "pressure": made.pop("pressure")}


def _named(name, key, members, file):
    known = _read(f"{name}.toml")
    if key not in known:
        raise ScenarioError(f"{file}: {key!r} is not in {name}.toml: use {' or '.join(known)}.")
    return _members(known[key], members, f"{name}.toml, {key}")


def _wrong(row, place):
    """(name, what goes wrong) of acts that show a mistake."""
    made = _members(row, WRONG, place)
    name = made.pop("name")
    if made["shows"] not in happened():
        raise ScenarioError(f"{place}, {name}: {made['shows']!r} never happens: use {' or '.join(happened())}.")
    return name, made | {"acts": rows_of_acts(made["acts"], f"{place}, {name}")}


def _wanted(given, more, file):
    """{code: limit} of what counts as done; that no mistake was made, nor one of ``more`` for this one, always does."""
    mistakes = [code for code, row in happened().items() if row["mistake"] or code in more]
    for code in given:
        if code not in DONE:
            raise ScenarioError(f"{file}, done: {code!r} is not known: use {' or '.join(DONE)}.")
    made = {code: _value(limit, WANTED[code], f"{file}, done, {code}") if code in WANTED else limit
            for code, limit in given.items()}
    return made | {"no-mistake": mistakes}


def _members(given, members, place):
    """Every one of ``members`` as ``given``, else as it is left out; a ScenarioError names what is wrong."""
    if not isinstance(given, dict):
        raise ScenarioError(f"{place}: is no table: write its keys and values.")
    for name in given:
        if name not in members:
            raise ScenarioError(f"{place}: {name!r} is not known: correct its spelling or take it out.")
    made = {}
    for name, (kind, otherwise) in members.items():
        value = given.get(name, otherwise)
        if value is REQUIRED:
            raise ScenarioError(f"{place}: has no {name}: write it.")
        made[name] = None if value is None else _value(value, kind, f"{place}, {name}")
    return made


def _value(value, kind, place):
    if isinstance(kind, str):
        return _quantity(value, kind, place)
    if isinstance(kind, tuple):
        if value not in kind:
            raise ScenarioError(f"{place}: {value!r} is not known: use {' or '.join(kind)}.")
        return value
    if kind is float and isinstance(value, int) and not isinstance(value, bool):
        return float(value)
    if not isinstance(value, kind) or isinstance(value, bool) and kind is int:
        raise ScenarioError(f"{place}: {value!r} is of another kind: write {TYPES[kind]}.")
    return value


def _quantity(text, kind, place):
    try:
        return read_quantity(str(text), kind, KINDS[kind]["metric"][0]).si
    except RefusedText as refused:
        symbols = " or ".join(KINDS[kind]["metric"])
        raise ScenarioError(f"{place}: {text!r} cannot be read ({refused.code}): write it in {symbols}.") from refused


TYPES = {int: "a whole number", float: "a number", str: "a text in quotes", bool: "true or false", dict: "a table",
         list: "a list"}


def _read(name):
    try:
        return tomllib.loads((HERE / name).read_bytes().decode("utf-8"))
    except ValueError as wrong:
        raise ScenarioError(f"{name}: is not TOML in UTF-8 ({wrong}): correct it there.") from wrong
