"""What purges took, as a share of the beer that was brewed and for each measure that was left to pack."""

from tankfoot.quantities.text import read_quantity
from tankfoot.quantities.units import offered
from tankfoot.report.exact import exact_sum
from tankfoot.report.facts import is_told

FILLED = "filled"
KINDS = {"filled": "tank_volume", "harvested": "bucket_volume", "taken": "tank_volume"}


def volumes_of(events, system):
    """{batch: {"filled", "off"}} of the bodies of ``events`` of batches: m3 filled, and taken for yeast and samples.

    A batch of which a filling has no amount is not there: nobody knows how much it was. Bare numbers are in the units
    of ``system``. A batch that went to another tank was filled once.

    >>> def event(name, amount):
    ...     return {"batch": "a", "event": name, "amount": amount}
    >>> volumes_of([event("filled", "10 hL"), event("taken", "20 L"), event("moved-in", "9 hL")], "metric")
    {'a': {'filled': 1.0, 'off': 0.02}}
    """
    amounts, unknown = {}, set()
    for body in events:
        if body["event"] in KINDS:
            if body["amount"] is None:
                unknown |= {body["batch"]} if body["event"] == FILLED else set()
                continue
            kind = KINDS[body["event"]]
            amount = read_quantity(body["amount"], kind, offered(kind, system)[0]).si
            told = amounts.setdefault(body["batch"], {FILLED: [], "off": []})
            told[FILLED if body["event"] == FILLED else "off"].append(amount)
    return {batch: {name: exact_sum(each) for name, each in told.items()}
            for batch, told in amounts.items() if told[FILLED] and batch not in unknown}


def share_of(facts, rows, volumes):
    """What the purges of ``rows`` took of their batches: {"batches", "filled", "lost", "packed"} in m3.

    "packed": what is left to pack of these batches, less what was harvested, taken and purged. Purges of a batch whose
    volume is not known are left out; None where none is known.

    >>> facts = {"batch": ["a", "a", "b"], "volume_lost": [0.01, 0.03, 0.5]}
    >>> share_of(facts, [0, 1, 2], {"a": {"filled": 2.0, "off": 0.5}})
    {'batches': 1, 'filled': 2.0, 'lost': 0.04, 'packed': 1.46}
    """
    known = [row for row in rows if facts["batch"][row] in volumes]
    batches = [volumes[batch] for batch in {facts["batch"][row] for row in known}]
    if not batches:
        return None
    filled, off = (exact_sum(batch[name] for batch in batches) for name in ("filled", "off"))
    lost = exact_sum(facts["volume_lost"][row] for row in known if is_told(facts["volume_lost"][row]))
    return {"batches": len(batches), "filled": filled, "lost": lost, "packed": exact_sum([filled, -off, -lost])}


RANGES = {
    "volumes_of": ["bodies of events", "system"],
    "share_of": "facts, rows and volumes of batches",
}
