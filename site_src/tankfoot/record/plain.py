"""Numbers of an entry that is surely right in its shape (surely.py): floats all of them, and written plainly or not.

What writes JSON quickly writes a number as a canonical text has it, but for the fraction of a whole one (1.0, -0.0) and
for powers of ten: where it wrote the same text again, numbers are all that is left to ask for.
"""

from functools import cache

from tankfoot.record.surely import described_whole, types_of

FROM, BELOW = 1e-4, 1e15  # all whole numbers below are floats without loss; beyond, somebody writes a power of ten


@cache
def plain_entry(entry):
    """{kind: what makes floats of all numbers of an entry, and says whether they are plain} for an ``entry``, a Shape.

    Whole numbers that were read are ints, so that a float is one that had a fraction or a power of ten.
    """
    return {kind: _numbers(described) for kind, described in described_whole(entry).items()}


def _numbers(described):
    """The same of a value ``described`` by JSON Schema; None where there is no number in it."""
    kind = types_of(described)[0]
    if "prefixItems" in described:
        return _places([place for place, inner in enumerate(described["prefixItems"]) if _is_number(inner)])
    if kind == "array":
        return _places(None) if _is_number(described["items"]) else _several(_numbers(described["items"]), iter)
    if kind != "object":
        return None
    if "properties" not in described:
        return _several(_numbers(described["additionalProperties"]), dict.values)
    members = described["properties"]
    own = [name for name, inner in members.items() if _is_number(inner)]
    inner = {name: made for name, described in members.items() if (made := _numbers(described))}
    if not own and not inner:
        return None

    def are_plain(value):
        return _are_floats(value, filter(value.__contains__, own)) and all(
            value.get(name) is None or made(value[name]) for name, made in inner.items()
        )

    return are_plain


def _places(given):
    """The same of a list with numbers in the ``given`` places, None for all of them."""
    return lambda value: _are_floats(value, range(len(value)) if given is None else given)


def _are_floats(value, places):
    for place in places:
        number = value[place]
        if type(number) is int:
            value[place] = float(number)
        elif number is not None and (number.is_integer() or not FROM <= abs(number) < BELOW):
            return False
    return True


def _is_number(described):
    return types_of(described)[0] == "number"


def _several(made, of):
    return made and (lambda value: all(map(made, of(value))))
