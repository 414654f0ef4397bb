"""What can happen to a batch, and the rules of what is due: data, from events.toml and rules.toml."""

import tomllib
from functools import cache
from importlib.resources import files

ASKS = ("purge", "reading", "look")
DEFAULTS = {"wait": 0.0, "every": None, "again": 0, "contact": False, "solids": None, "off": False, "title": None}


@cache
def events():
    """{event: what goes with it}, as the head of events.toml says; every event has every member."""
    plain = {"amount": None, "days": False, "sign": 0, "fills": False, "empties": False, "carried": False}
    return {name: plain | row for name, row in _read("events.toml").items()}


@cache
def default_rules():
    """The rules that a cellar begins with, each with every member; days are floats."""
    return [_whole(row) for row in _read("rules.toml")["rules"]]


def rules_of(entries):
    """The rules that hold, in the order of the defaults, then the site's own by name.

    ``entries`` of kind "due-rule" replace a rule by its name, the one edited last; of one instant the last by its id.

    >>> body = default_rules()[0] | {"off": True}
    >>> off = {"id": "a", "edited": "2026-03-01T07:00:00.000Z", "deleted": False, "body": body}
    >>> rules_of([off])[0]["off"], len(rules_of([])) == len(default_rules())
    (True, True)
    """
    own = {}
    for entry in sorted(entries, key=lambda entry: (entry["edited"], entry["id"])):
        if not entry["deleted"]:
            own[entry["body"]["name"]] = entry["body"]
    names = [rule["name"] for rule in default_rules()]
    more = sorted(name for name in own if name not in names)
    return [own.get(rule["name"], rule) for rule in default_rules()] + [own[name] for name in more]


def _whole(row):
    days = {name: float(row[name]) for name in ("wait", "within", "every") if name in row}
    return DEFAULTS | row | days


def _read(name):
    return tomllib.loads((files(__package__) / name).read_text(encoding="utf-8"))


RANGES = {"rules_of": ["rules of the record"]}
