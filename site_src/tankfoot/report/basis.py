"""What a cost is held against: prices, and the purges that "saved" is counted from."""

from tankfoot.quantities.text import read_quantity
from tankfoot.quantities.units import offered
from tankfoot.report.meaning import PRICES


def basis_of(bases):
    """The one of ``bases``, entries, that counts: the one edited last, of one instant the greater id; None of none.

    >>> basis_of([{"id": "a", "edited": "1", "deleted": False}, {"id": "b", "edited": "2", "deleted": True}])["id"]
    'a'
    """
    return max((entry for entry in bases if not entry["deleted"]), key=_when, default=None)


def prices_of(body, system):
    """The prices of a basis' ``body`` in SI: for each m3 of beer, kg of CO2, second of a hand; None of one not known.

    Bare numbers are in the units of ``system``.

    >>> prices_of({"beer_value": None, "gas_price": "2 $/kg", "wage": "36"}, "metric")
    {'beer_value': None, 'gas_price': 2.0, 'wage': 0.01}
    """
    return {name: body[name] and read_quantity(body[name], kind, offered(kind, system)[0]).si
            for name, kind in PRICES.items()}


def _when(entry):
    return entry["edited"], entry["id"]


RANGES = {
    "basis_of": ["bases"],
    "prices_of": ["basis", "system"],
}
