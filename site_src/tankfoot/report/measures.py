"""What a report counts of each purge, and what each is off by: an amount of a purge, told apart by whose fault it is.

A part is (value, tool, assumed, own), SI: the value, what its instruments are off by, what an assumed share of beer is
off by, and what the readings of that purge alone are off by. What instruments and assumptions are off by is the same at
every purge; what a reading is off by is another each time.
"""

import math

from tankfoot.report.facts import is_told

SECOND = 1.0  # s: what a tap is off by, as in the sum purge-split


def measured(facts, name, prices, baseline):
    """The parts of all purges for a measure ``name``, None where a purge does not tell it.

    ``facts``: columns (facts.py). ``prices``: "beer_value", "gas_price" and "wage", SI, None of one that is not known.
    ``baseline``: {kind of solids: {"seconds"}} (baseline.py). One measure at a time: all at once take much memory.
    """
    return list(each_measured(facts, name, prices, baseline))


def each_measured(facts, name, prices, baseline):
    """The same, one after the other."""
    part_of = PART_OF[name]
    return (part_of(facts, row, prices, baseline) for row in range(len(facts["id"])))


def _whole(name):
    return lambda facts, row, prices, baseline: _part(facts[name][row], facts[f"{name}_doubt"][row])


def _part(value, doubt):
    return (value, doubt if is_told(doubt) else 0.0, 0.0, 0.0) if is_told(value) else None


def _of_volume(name, rests_on_share):
    return lambda facts, row, prices, baseline: (
        _split(facts, facts[name][row], facts[f"{name}_doubt"][row], rests_on_share, row)
    )


def _split(facts, value, doubt, rests_on_share, row):
    """Of a part of the volume: as much of its ± as the volume has is the instruments', the rest somebody else's."""
    if not is_told(value):
        return None
    doubt = doubt if is_told(doubt) else 0.0
    tool = min(abs(value) * _relative(facts, row), doubt)
    rest = math.sqrt(doubt * doubt - tool * tool)
    is_assumed = rests_on_share and facts["assumed"][row]
    return value, tool, rest if is_assumed else 0.0, 0.0 if is_assumed else rest


def _relative(facts, row):
    volume, doubt = facts["volume_lost"][row], facts["volume_lost_doubt"][row]
    return doubt / volume if is_told(volume) and is_told(doubt) and volume > 0.0 else 0.0


def _hand(facts, row, prices, baseline):
    seconds = facts["seconds"][row]
    return (seconds, 0.0, 0.0, math.sqrt(2.0) * SECOND) if is_told(seconds) else None  # two taps


def _saved(facts, row, prices, baseline):
    """By so much less beer ran than if the port had been closed as late as in the baseline, at this purge's flow."""
    volume, run, past = (facts[name][row] for name in ("volume_lost", "run", "past"))
    base = baseline.get(facts["kind"][row])
    if base is None or not (is_told(volume) and is_told(run) and is_told(past)) or run <= 0.0:
        return None
    flow = volume / run
    value = (base["seconds"] - past) * flow
    return value, abs(value) * _relative(facts, row), 0.0, flow * SECOND


def _beer_value(facts, row, prices):
    """What the purge's beer is worth, for each m3: by what it told itself, else as the basis says."""
    money, overrun, carried = (facts[name][row] for name in ("beer_money", "overrun", "beer_in_solids"))
    if is_told(money) and is_told(overrun) and is_told(carried) and overrun + carried > 0.0:
        return money / (overrun + carried)
    return prices["beer_value"]


def _beer_money(facts, row, prices, baseline):
    money, doubt = facts["beer_money"][row], facts["beer_money_doubt"][row]
    if is_told(money):
        return _split(facts, money, doubt, True, row)
    lost = _together([PART_OF[name](facts, row, prices, baseline) for name in ("overrun", "beer_in_solids")])
    return _times(lost, prices["beer_value"])


def _worth(name):
    """What beer of that measure is worth."""
    return lambda facts, row, prices, baseline: (
        _times(PART_OF[name](facts, row, prices, baseline), _beer_value(facts, row, prices))
    )


def _paid(name, price):
    return lambda facts, row, prices, baseline: _times(PART_OF[name](facts, row, prices, baseline), prices[price])


def _money(facts, row, prices, baseline):
    return _together([PART_OF[name](facts, row, prices, baseline) for name in PAID])


def _times(part, price):
    if part is None or price is None:
        return None
    value, tool, assumed, own = part
    return value * price, abs(tool * price), abs(assumed * price), abs(own * price)


def _together(parts):
    told = [part for part in parts if part is not None]
    if not told:
        return None
    value, tool, assumed, squares = 0.0, 0.0, 0.0, 0.0
    for part in told:
        value += part[0]
        tool += part[1]
        assumed += part[2]
        squares += part[3] * part[3]
    return value, tool, assumed, math.sqrt(squares)


PART_OF = {
    "volume_lost": _whole("volume_lost"),
    "overrun": _of_volume("overrun", False),
    "solids": _of_volume("solids", True),
    "beer_in_solids": _of_volume("beer_in_solids", True),
    "co2_mass": _whole("co2_mass"),
    "seconds": _hand,
    "money": _money,
    "money_beer": _beer_money,
    "money_overrun": _worth("overrun"),
    "money_co2": _paid("co2_mass", "gas_price"),
    "money_hand": _paid("seconds", "wage"),
    "saved": _saved,
    "money_saved": _worth("saved"),
}
MEASURES = tuple(PART_OF)
PAID = ("money_beer", "money_co2", "money_hand")  # what "money" is made of
RANGES = {"measured": "facts and what they are held against"}
