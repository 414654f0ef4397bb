"""A quick yes to an entry's shape, from the declarations that validation goes by: some thousands of entries a second.

It says yes only to what is surely right. What it does not say yes to may be right or wrong: validation tells, and says
what and where.
"""

import re
from functools import cache, lru_cache

from tankfoot.record.bodies import BODIES
from tankfoot.record.members import INSTANT

SCALARS = (str, float, int, bool, type(None))
YEAR, TIME = "(?:19|20)[0-9]{2}", r"T(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]\.[0-9]{3}Z"
DAYS = "(?:(?:0[1-9]|1[0-2])-(?:0[1-9]|1[0-9]|2[0-8])|(?:0[13-9]|1[0-2])-(?:29|30)|(?:0[13578]|1[02])-31)"
PATTERNS = {INSTANT: f"{YEAR}-{DAYS}{TIME}"}  # of these the calendar is asked too; of the 29th of February it must be
NUMBERS = (float, int)
SHORT, FEW = 60, 1000  # of short texts, names say, few differ: they are remembered


@cache
def surely_entry(entry):
    """{kind: what says yes to a whole entry of that kind} for an ``entry``, a Shape."""
    described = entry.described()
    pasts = described["properties"]["history"]
    kinds = {}
    for kind, shape in BODIES.items():
        body = shape.described()
        history = pasts | {"items": _with(pasts["items"], body=body)}
        kinds[kind] = _test(_with(described, body=body, history=history))
    return kinds


def _with(described, **properties):
    return described | {"properties": described["properties"] | properties}


def _test(described):
    """What says yes to a value that is surely as ``described`` by JSON Schema."""
    types = described["type"] if isinstance(described["type"], list) else [described["type"]]
    made = _MADE[types[0]](described)
    if "null" not in types:
        return made
    return lambda value: value is None or made(value)


def _text(described):
    least, most = described.get("minLength", 0), described.get("maxLength")
    if "enum" in described:
        words = frozenset(described["enum"])
        return lambda value: type(value) is str and value in words
    if "pattern" not in described:
        return lambda value: type(value) is str and least <= len(value) <= most
    pattern = described["pattern"]
    matches = re.compile(PATTERNS.get(pattern, pattern.removeprefix("^").removesuffix("$"))).fullmatch
    if most is None:
        return lambda value: type(value) is str and matches(value) is not None
    if most > SHORT:
        return lambda value: type(value) is str and len(value) <= most and matches(value) is not None
    is_short = lru_cache(FEW)(lambda value: len(value) <= most and matches(value) is not None)
    return lambda value: type(value) is str and is_short(value)


def _number(described):
    high, low, above = described["maximum"], described.get("minimum"), described.get("exclusiveMinimum")
    if low is None:
        return lambda value: type(value) in NUMBERS and above < value <= high
    return lambda value: type(value) in NUMBERS and low <= value <= high


def _flag(described):
    return lambda value: value is True or value is False


def _list(described):
    least, most, each = described.get("minItems", 0), described["maxItems"], _test(described["items"])
    return lambda value: type(value) is list and least <= len(value) <= most and all(map(each, value))


def _object(described):
    if "properties" not in described:
        each = _test(described["additionalProperties"])
        return lambda value: type(value) is dict and all(map(each, value.values()))
    tests = {name: _test(inner) for name, inner in described["properties"].items()}
    required, test_of = frozenset(described["required"]), tests.get

    def is_right(value):
        if type(value) is not dict or not required <= value.keys():
            return False
        for name, inner in value.items():
            test = test_of(name)
            if not (isinstance(inner, SCALARS) if test is None else test(inner)):
                return False
        return True

    return is_right


_MADE = {"string": _text, "number": _number, "boolean": _flag, "array": _list, "object": _object}
