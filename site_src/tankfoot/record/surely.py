"""A quick yes to an entry's shape, from the declarations that validation goes by: many thousands of entries a second.

It says yes only to what is surely right. What it does not say yes to may be right or wrong: validation tells, and says
what and where. Of a list of objects it looks at one member of all of them at once.
"""

import re
from functools import cache, lru_cache
from operator import call

from tankfoot.record.bodies import BODIES
from tankfoot.record.members import INSTANT

SCALARS = (str, float, int, bool, type(None))  # what a member may be that is not described: it may be deep no further
YEAR, TIME = "(?:19|20)[0-9]{2}", r"T(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]\.[0-9]{3}Z"
DAYS = "(?:(?:0[1-9]|1[0-2])-(?:0[1-9]|1[0-9]|2[0-8])|(?:0[13-9]|1[0-2])-(?:29|30)|(?:0[13578]|1[02])-31)"
PATTERNS = {INSTANT: f"{YEAR}-{DAYS}{TIME}"}  # of these the calendar is asked too; of the 29th of February it must be
INSTANT_LONG = len("2026-03-01T07:05:09.120Z")
NUMBERS = (float, int)
TEXTS, OBJECT = {str, type(None)}, {dict}
SHORT, FEW = 60, 1000  # of short texts, names say, and of sets of names few differ: they are remembered


@cache
def surely_entry(entry, unknown=SCALARS):
    """{kind: what says yes to a whole entry of that kind} for an ``entry``, a Shape.

    ``unknown``: the types of what a member may be that is not described.
    """
    return {kind: _test(described, unknown) for kind, described in described_whole(entry).items()}


def described_whole(entry):
    """{kind: an ``entry``, a Shape, with the body of that kind, as JSON Schema}."""
    described = entry.described()
    pasts = described["properties"]["history"]
    kinds = {}
    for kind, shape in BODIES.items():
        body = shape.described()
        history = pasts | {"items": _with(pasts["items"], body=body)}
        kinds[kind] = _with(described, body=body, history=history)
    return kinds


def _with(described, **properties):
    return described | {"properties": described["properties"] | properties}


def types_of(described):
    """The types that a value may be of, "null" last."""
    return described["type"] if isinstance(described["type"], list) else [described["type"]]


def _test(described, unknown):
    """What says yes to a value that is surely as ``described`` by JSON Schema."""
    types = types_of(described)
    made = _MADE[types[0]](described, unknown)
    if "null" not in types:
        return made
    return lambda value: value is None or made(value)


def _text(described, unknown):
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


def _number(described, unknown):
    high, low, above = described["maximum"], described.get("minimum"), described.get("exclusiveMinimum")
    if low is None:
        return lambda value: type(value) in NUMBERS and above < value <= high
    return lambda value: type(value) in NUMBERS and low <= value <= high


def _flag(described, unknown):
    return lambda value: value is True or value is False


def _list(described, unknown):
    if "prefixItems" in described:
        return _row([_test(inner, unknown) for inner in described["prefixItems"]])
    least, most, items = described.get("minItems", 0), described["maxItems"], described["items"]
    are_right = (_objects if "properties" in items else _each)(items, unknown)
    return lambda value: type(value) is list and least <= len(value) <= most and are_right(value)


def _row(tests):
    return lambda value: type(value) is list and len(value) == len(tests) and all(map(call, tests, value))


def _each(described, unknown):
    """What says yes to several values that are all surely as ``described``."""
    is_right = _test(described, unknown)
    return lambda values: all(map(is_right, values))


def _objects(described, unknown):
    """The same of objects."""
    def are_scalars(values):
        return all(isinstance(value, unknown) for value in values)

    members_of = _by_names(described, unknown, _column, are_scalars)

    def are_right(values):
        if not OBJECT.issuperset(map(type, values)):
            return False
        kinds = set(map(tuple, values))
        for names in kinds:
            members = members_of(names)
            rows = values if len(kinds) == 1 else [value for value in values if tuple(value) == names]
            if members is None or not all(
                are_so([row[name] for row in rows]) for name, are_so in zip(names, members, strict=True)
            ):
                return False
        return True

    return are_right


def _column(described, unknown):
    """What says yes to what several objects have as one member."""
    if described.get("pattern") == INSTANT and "null" not in types_of(described):
        return _instants()
    are_right = _each(described, unknown)
    return _remembering(are_right) if types_of(described)[0] == "string" and _is_short(described) else are_right


def _is_short(described):
    return "enum" in described or described.get("maxLength", SHORT + 1) <= SHORT


def _instants():
    """Put one behind the other they are right where each is, since all are equally long."""
    match = re.compile(f"(?:{PATTERNS[INSTANT]})*").fullmatch
    return lambda values: (
        set(map(type, values)) == {str} and set(map(len, values)) == {INSTANT_LONG} and bool(match("".join(values)))
    )


def _remembering(are_right):
    """``are_right``, of texts, few of which differ."""
    known = set()

    def are_so(values):
        if not TEXTS.issuperset(map(type, values)):
            return False
        if known.issuperset(values):
            return True
        if not are_right(values):
            return False
        if len(known) < FEW:
            known.update(values)
        return True

    return are_so


def _object(described, unknown):
    if "properties" not in described:
        return _named(_test(described["additionalProperties"], unknown))
    tests_of = _by_names(described, unknown, _test, lambda value: isinstance(value, unknown))

    def is_right(value):
        return type(value) is dict and (tests := tests_of(tuple(value))) is not None and all(
            map(call, tests, value.values())
        )

    return is_right


def _by_names(described, unknown, make, of_others):
    """What tells of the names of an object's members what says yes to each of them; None where a name is missing.

    ``make``: of what a member is -> what says yes to it; ``of_others``: that of a member which is not described.
    """
    made = {name: make(inner, unknown) for name, inner in described["properties"].items()}
    required = frozenset(described["required"])

    @lru_cache(FEW)
    def of(names):
        return [made.get(name, of_others) for name in names] if required.issubset(names) else None

    return of


def _named(is_right):
    return lambda value: type(value) is dict and all(map(is_right, value.values()))


_MADE = {"string": _text, "number": _number, "boolean": _flag, "array": _list, "object": _object}
