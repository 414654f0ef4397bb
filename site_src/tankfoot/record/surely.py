"""A quick yes to an entry's shape, from the declarations that validation goes by: some thousands of entries a second.

It says yes only to what is surely right, and has the keys of all objects in order. What it does not say yes to may be
right or wrong: validation tells, and says what and where.
"""

import re
from functools import cache, lru_cache
from operator import call

from tankfoot.record.bodies import BODIES
from tankfoot.record.members import INSTANT

SCALARS = (str, float, int, bool, type(None))
YEAR, TIME = "(?:19|20)[0-9]{2}", r"T(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]\.[0-9]{3}Z"
DAYS = "(?:(?:0[1-9]|1[0-2])-(?:0[1-9]|1[0-9]|2[0-8])|(?:0[13-9]|1[0-2])-(?:29|30)|(?:0[13578]|1[02])-31)"
PATTERNS = {INSTANT: f"{YEAR}-{DAYS}{TIME}"}  # of these the calendar is asked too; of the 29th of February it must be
NUMBERS = (float, int)
SHORT, FEW = 60, 1000  # of short texts, names say, and of sets of names few differ: they are remembered


@cache
def surely_entry(entry):
    """{kind: what says yes to a whole entry of that kind} for an ``entry``, a Shape.

    It answers how many members all objects in it have; 0 is no yes.
    """
    described = entry.described()
    pasts = described["properties"]["history"]
    kinds = {}
    for kind, shape in BODIES.items():
        body = shape.described()
        history = pasts | {"items": _with(pasts["items"], body=body)}
        kinds[kind] = _counting(_with(described, body=body, history=history))
    return kinds


def _counting(described):
    members = []
    is_right = _test(described, members.append)

    def count(value):
        members.clear()
        return sum(members) if is_right(value) else 0

    return count


def _with(described, **properties):
    return described | {"properties": described["properties"] | properties}


def _test(described, tell):
    """What says yes to a value that is surely as ``described`` by JSON Schema; objects ``tell`` how many members."""
    types = described["type"] if isinstance(described["type"], list) else [described["type"]]
    made = _MADE[types[0]](described, tell)
    if "null" not in types:
        return made
    return lambda value: value is None or made(value)


def _text(described, tell):
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


def _number(described, tell):
    high, low, above = described["maximum"], described.get("minimum"), described.get("exclusiveMinimum")
    if low is None:
        return lambda value: type(value) in NUMBERS and above < value <= high
    return lambda value: type(value) in NUMBERS and low <= value <= high


def _flag(described, tell):
    return lambda value: value is True or value is False


def _list(described, tell):
    if "prefixItems" in described:
        return _row([_test(inner, tell) for inner in described["prefixItems"]])
    least, most, each = described.get("minItems", 0), described["maxItems"], _test(described["items"], tell)
    return lambda value: type(value) is list and least <= len(value) <= most and all(map(each, value))


def _row(tests):
    return lambda value: type(value) is list and len(value) == len(tests) and all(map(call, tests, value))


def _object(described, tell):
    if "properties" not in described:
        return _named(_test(described["additionalProperties"], tell), tell)
    tests = {name: _test(inner, tell) for name, inner in described["properties"].items()}
    required = frozenset(described["required"])

    @lru_cache(FEW)
    def tests_of(names):
        """What says yes to the values of members with these ``names``; None where these are not right."""
        if not required.issubset(names) or list(names) != sorted(names):
            return None
        return [tests.get(name, _is_scalar) for name in names]

    def is_right(value):
        if type(value) is not dict or (of_members := tests_of(tuple(value))) is None:
            return False
        tell(len(value))
        return all(map(call, of_members, value.values()))

    return is_right


def _is_scalar(value):
    return isinstance(value, SCALARS)


def _named(each, tell):
    def is_right(value):
        if type(value) is not dict or [*value] != sorted(value) or not all(map(each, value.values())):
            return False
        tell(len(value))
        return True

    return is_right


_MADE = {"string": _text, "number": _number, "boolean": _flag, "array": _list, "object": _object}
