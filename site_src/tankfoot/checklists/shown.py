"""What a text of a list or card shows on a phone: its places in {braces} filled in by the region and the units.

{co2_limits} and {eyewash} are what holds in the region, by ``regions.toml``; where none is set, or nothing is known of
it, all of them, named. {15 psi} is that quantity in the phone's unit.
"""

import re

from tankfoot.checklists import regions, standards
from tankfoot.quantities.format import format_plain, with_unit
from tankfoot.quantities.units import KINDS, SYSTEMS
from tankfoot.quantities.units import units as known_units
from tankfoot.wording.languages import LANGUAGE

PLACE = re.compile(r"\{([^{}]*)\}")
QUANTITY = re.compile(r"([0-9]+(?:\.[0-9]+)?) (.+)")
DIGITS = 2  # what stands in a list is rounded to be remembered
NAMES = ("co2_limits", "eyewash")


def shown(text, region, units):
    """``text`` with its places filled in; one that is of no known kind stays as it is.

    ``region``: a name in regions.toml, or "". ``units``: the unit that each kind of quantity is shown in.

    >>> shown("{9.9 kPa} more, by {other}", "", units_of("us"))
    '1.4 psi more, by {other}'
    >>> shown("{53 °F}", "United Kingdom", units_of("metric"))
    '12 °C'
    """
    return PLACE.sub(lambda found: _filled(found, region, units), text)


def _filled(found, region, units):
    place = found[1]
    if place in NAMES:
        return _of_region(place, region)
    quantity = QUANTITY.fullmatch(place)
    kind = kind_of(quantity[2]) if quantity else None
    return found[0] if kind is None else _in_unit(float(quantity[1]), quantity[2], units[kind], place)


def _of_region(name, region):
    own = regions()[region].standard if region in regions() else None
    if own is not None:
        return getattr(standards()[own], name)
    return everywhere(name)


def everywhere(name, language=LANGUAGE):
    """All that is known of one of NAMES, whose it is before each."""
    return " ".join(f"{standard.named}: {getattr(standard, name)}" for standard in standards(language).values())


def _in_unit(number, symbol, wanted, place):
    if symbol == wanted:
        return place
    given, unit = known_units()[symbol], known_units()[wanted]
    si = number * given.factor + given.offset
    return with_unit(format_plain((si - unit.offset) / unit.factor, DIGITS), wanted)


def kind_of(symbol):
    """The first kind of quantity that is offered in a unit, None for none.

    >>> kind_of("psi"), kind_of("furlong")
    ('gauge_pressure', None)
    """
    return next((kind for kind, offers in KINDS.items() if any(symbol in offer for offer in offers.values())), None)


def units_of(system):
    """{kind of quantity: the unit that a system shows it in at first}."""
    return {kind: offers[system][0] for kind, offers in KINDS.items()}


def unfilled(text):
    """The places of a text that nothing fills in, in their order."""
    return PLACE.findall(shown(text, "", units_of(next(iter(SYSTEMS)))))


RANGES = {
    "shown": ["text with places", "region", "units shown"],
    "kind_of": ["unit"],
}
