"""Figures of many purges: how much in all, how much usually, and what that is off by."""

import math
from array import array
from collections import defaultdict
from itertools import chain

from tankfoot.report.exact import exact_sum
from tankfoot.report.measures import MEASURES, each_measured
from tankfoot.usual.median import median

UNTOLD = (math.nan,) * 4  # a part that a purge does not tell
SAID_APART = ("solids", "beer_in_solids")  # how much of the sum rests on an assumed share of beer


def figures_of(facts, groups, prices, baseline):
    """[(name of a group, its figures)] of ``groups``, pairs of a name and the rows of its purges in ``facts``.

    Figures are {"purges": how many, measure: {"sum", "median", "uncertainty", "told": how many tell it}}, in SI; those
    of SAID_APART have "assumed" besides, the sum of what is assumed. ``prices`` and ``baseline``: see measures.py.
    """
    figures = [{"purges": len(rows)} for _, rows in groups]
    for name in MEASURES:
        for made, of_measure in zip(figures, figures_of_measure(facts, groups, name, prices, baseline), strict=True):
            made[name] = of_measure
    return [(name, made) for (name, _), made in zip(groups, figures, strict=True)]


def figures_of_measure(facts, groups, name, prices, baseline):
    """The figure of each of ``groups`` for a measure ``name``, one after the other."""
    values, tools, assumed, squares = columns = [array("d") for _ in range(4)]
    for part in each_measured(facts, name, prices, baseline):
        value, tool, share, own = part or UNTOLD
        for column, told in zip(columns, (value, tool, share, own * own), strict=True):
            column.append(told)
    gaps = sum(map(math.isnan, values))
    tools, assumed = (column if any(column) else () for column in (tools, assumed))
    for _, rows in groups:
        told = rows if not gaps else [row for row in rows if not math.isnan(values[row])] if gaps < len(values) else []
        made = _figure(told, facts["tool"], values, tools, assumed, squares)
        if name in SAID_APART:
            made["assumed"] = exact_sum(values[row] for row in told if facts["assumed"][row])
        yield made


def figure(parts):
    """The figure of ``parts``, each with its instrument in front: (instrument, value, tool, assumed, own).

    What an instrument is off by it is off by at every reading, so it adds up over those of one instrument, and so does
    an assumption over all that rest on it. Instruments, the assumption and single readings are independent of each
    other: their squares add up (JCGM 100:2008, 5.1.2 and 5.2.2, of correlation 1 and 0).

    >>> figure([("FV 1", 5.0, 0.3, 0.0, 0.0), ("FV 1", 7.0, 0.1, 0.0, 0.3)])
    {'sum': 12.0, 'median': 6.0, 'uncertainty': 0.5, 'told': 2}
    """
    instruments, values, tools, assumed, own = [*zip(*parts, strict=True)] or [()] * 5
    return _figure(range(len(parts)), instruments, values, tools, assumed, [each * each for each in own])


def _figure(rows, instruments, values, tools, assumed, squares):
    """The same of ``rows`` of columns; ``squares``: of what readings are off by. Of a million, one column at a time.

    ``tools`` and ``assumed`` are empty where all of it is nothing.
    """
    by_instrument = defaultdict(list)
    for row in rows if tools else ():
        by_instrument[instruments[row]].append(tools[row])
    shared = [*map(exact_sum, by_instrument.values()), exact_sum(map(assumed.__getitem__, rows if assumed else ()))]
    by_instrument.clear()
    uncertainty = math.sqrt(exact_sum(chain((each * each for each in shared), map(squares.__getitem__, rows))))
    values = [values[row] for row in rows]
    return {"sum": exact_sum(values), "median": median(values), "uncertainty": uncertainty, "told": len(values)}


RANGES = {
    "figures_of": "facts and groups of them",
    "figure": ["parts of purges"],
}
