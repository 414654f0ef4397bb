"""Figures of many purges: how much in all, how much usually, and what that is off by."""

import math
from collections import defaultdict

from tankfoot.report.exact import exact_sum
from tankfoot.report.measures import MEASURES, measured
from tankfoot.usual.median import median

SAID_APART = ("solids", "beer_in_solids")  # how much of the sum rests on an assumed share of beer


def figures_of(facts, groups, prices, baseline):
    """[(name of a group, its figures)] of ``groups``, pairs of a name and the rows of its purges in ``facts``.

    Figures are {"purges": how many, measure: {"sum", "median", "uncertainty", "told": how many tell it}}, in SI; those
    of SAID_APART have "assumed" besides, the sum of what is assumed. ``prices`` and ``baseline``: see measures.py.
    """
    figures = [{"purges": len(rows)} for _, rows in groups]
    for name in MEASURES:
        parts = measured(facts, name, prices, baseline)
        for (_, rows), made in zip(groups, figures, strict=True):
            told = [row for row in rows if parts[row] is not None]
            made[name] = figure([(facts["tool"][row], *parts[row]) for row in told])
            if name in SAID_APART:
                made[name]["assumed"] = exact_sum(parts[row][0] for row in told if facts["assumed"][row])
    return [(name, made) for (name, _), made in zip(groups, figures, strict=True)]


def figure(parts):
    """The figure of ``parts``, each with its instrument in front: (instrument, value, tool, assumed, own).

    What an instrument is off by it is off by at every reading, so it adds up over those of one instrument, and so does
    an assumption over all that rest on it. Instruments, the assumption and single readings are independent of each
    other: their squares add up (JCGM 100:2008, 5.1.2 and 5.2.2, of correlation 1 and 0).

    >>> figure([("FV 1", 5.0, 0.3, 0.0, 0.0), ("FV 1", 7.0, 0.1, 0.0, 0.3)])
    {'sum': 12.0, 'median': 6.0, 'uncertainty': 0.5, 'told': 2}
    """
    tools = defaultdict(list)
    for name, _, tool, _, _ in parts:
        tools[name].append(tool)
    shared = [*map(exact_sum, tools.values()), exact_sum(assumed for _, _, _, assumed, _ in parts)]
    squares = exact_sum([*(each * each for each in shared), *(own * own for _, _, _, _, own in parts)])
    values = [value for _, value, _, _, _ in parts]
    return {
        "sum": exact_sum(values), "median": median(values), "uncertainty": math.sqrt(squares), "told": len(parts),
    }


RANGES = {
    "figures_of": "facts and groups of them",
    "figure": ["parts of purges"],
}
