"""Whether what was typed about a batch or at a gauge can be read by this app."""

from tankfoot.batches.rules import events
from tankfoot.quantities.text import RefusedText, read_quantity
from tankfoot.quantities.units import KINDS, offered

LARGEST = 1e12  # SI: as large as an amount of the record may be
READ = {  # what is read at a tank, and as which kinds of quantity
    "gravity": ("gravity", "extract"), "pressure": ("gauge_pressure",), "temperature": ("temperature",),
    "topped_up": ("gauge_pressure",),
}


def batch_event_problems(body):
    """[(place in it, code, facts)] of what the ``body`` of a batch's event, right in its shape, cannot mean.

    >>> batch_event_problems({"event": "dry-hopped", "amount": "3 bbl"})[0][:2]
    ('amount', 'must-be')
    """
    kind = events()[body["event"]]["amount"]
    return unread("amount", body["amount"], (kind,) if kind else tuple(_amounts()))


def reading_problems(body):
    """[(place in it, code, facts)] of what the ``body`` of a tank's reading, right in its shape, cannot mean.

    >>> reading_problems({"pressure": "12 psi", "temperature": None, "gravity": "12 °P", "topped_up": "cold"})[0][:2]
    ('topped_up', 'must-be')
    """
    return [problem for name, kinds in READ.items() for problem in unread(name, body[name], kinds)]


def _amounts():
    """The kinds of all amounts: one beside an event that has none may be left from another."""
    return dict.fromkeys(row["amount"] for row in events().values() if row["amount"])


def unread(place, text, kinds):
    """[(place, code, facts)] of a ``text`` that is a quantity of none of ``kinds``; none where there is no text.

    >>> unread("wage", "20 $/h", ("wage",)), unread("wage", None, ("wage",)), unread("wage", "much", ("wage",))[0][:2]
    ([], [], ('wage', 'must-be'))
    """
    if text is None or any(_is_read(text, kind) for kind in kinds):
        return []
    units = dict.fromkeys(symbol for kind in kinds for symbols in KINDS[kind].values() for symbol in symbols)
    return [(place, "must-be", {"what": "quantity", "units": ", ".join(units)})]


def _is_read(text, kind):
    try:
        reading = read_quantity(text, kind, offered(kind, "us")[0])
    except RefusedText:
        return False
    return abs(reading.si) <= LARGEST


RANGES = {
    "unread": "what was typed as a price",
    "batch_event_problems": ["batch event of the record"],
    "reading_problems": ["reading of the record"],
}
