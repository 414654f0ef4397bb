"""Figures of many purges: how much in all, how much usually, and what that is off by."""

import math
from array import array
from collections import defaultdict
from functools import partial
from itertools import chain, compress

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
    put_value, put_tool, put_share, put_square = (column.append for column in columns)
    for part in each_measured(facts, name, prices, baseline):
        value, tool, share, own = part or UNTOLD
        put_value(value)
        put_tool(tool)
        put_share(share)
        put_square(own * own)
    gaps = sum(map(math.isnan, values))
    tools, assumed, squares = (column if any(column) else () for column in (tools, assumed, squares))
    for _, rows in groups:
        told = rows if not gaps else [row for row in rows if not math.isnan(values[row])] if gaps < len(values) else []
        made = _figure(told, facts["tool"], values, tools, assumed, squares)
        if name in SAID_APART:
            made["assumed"] = exact_sum(compress(_of(values, told), _of(facts["assumed"], told)))
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

    ``tools``, ``assumed`` and ``squares`` are empty where all of it is nothing.
    """
    shared = [*_by_instrument(rows, instruments, tools), exact_sum(_of(assumed, rows))]
    uncertainty = math.sqrt(exact_sum(chain((each * each for each in shared), _of(squares, rows))))
    values = [*_of(values, rows)]
    return {"sum": exact_sum(values), "median": median(values), "uncertainty": uncertainty, "told": len(values)}


def _by_instrument(rows, instruments, tools):
    """What each instrument is off by, summed."""
    names = [*_of(instruments, rows)] if tools else []
    if len(set(names)) < 2:
        return [exact_sum(_of(tools, rows))]
    of = defaultdict(partial(array, "d"))
    for name, tool in zip(names, _of(tools, rows), strict=True):
        of[name].append(tool)
    return [*map(exact_sum, of.values())]


def _of(column, rows):
    """What stands in ``rows`` of a ``column``; of an empty one nothing."""
    return map(column.__getitem__, rows) if column else ()


RANGES = {
    "figures_of": "facts and groups of them",
    "figure": ["parts of purges"],
}
