"""Figures of many purges: how much in all, how much usually, and what that is off by."""

import math
from array import array
from itertools import accumulate, chain, compress, groupby, pairwise
from operator import itemgetter

from tankfoot.report.exact import exact_sum
from tankfoot.report.measures import MEASURES, each_measured
from tankfoot.usual.median import median

UNTOLD = (math.nan, 0.0, 0.0, 0.0)  # a part that a purge does not tell
SAID_APART = ("solids", "beer_in_solids")  # how much of the sum rests on an assumed share of beer


def figures_of(facts, groups, prices, baseline):
    """[(name of a group, its figures)] of ``groups``, pairs of a name and the rows of its purges in ``facts``.

    Figures are {"purges": how many, measure: {"sum", "median", "uncertainty", "told": how many tell it}}, in SI; those
    of SAID_APART have "assumed" besides, the sum of what is assumed. ``prices`` and ``baseline``: see measures.py.
    """
    groups = by_instrument(facts, groups)
    figures = [{"purges": len(rows)} for _, rows, _ in groups]
    for name in MEASURES:
        for made, of_measure in zip(figures, figures_of_measure(facts, groups, name, prices, baseline), strict=True):
            made[name] = of_measure
    return [(name, made) for (name, _, _), made in zip(groups, figures, strict=True)]


def by_instrument(facts, groups):
    """[(name, rows, ends)] of ``groups``: the rows in the order of their instruments, and where those of each one end.

    In arrays: processes share one as it is; of a list each would copy what it looks at.

    >>> by_instrument({"tool": ["FV 2", "FV 1", "FV 2"]}, [("all", [0, 1, 2])])
    [('all', array('l', [1, 0, 2]), array('l', [1, 3]))]
    """
    tool, made = facts["tool"].__getitem__, []
    for name, rows in groups:
        rows = array("l", sorted(rows, key=tool))
        ends = accumulate(sum(1 for _ in of) for _, of in groupby(map(tool, rows)))
        made.append((name, rows, array("l", ends)))
    return made


def figures_of_measure(facts, groups, name, prices, baseline):
    """The figure of each of ``groups``, by their instruments, for a measure ``name``, one after the other."""
    values, tools, assumed, squares = columns = [array("d") for _ in range(4)]
    put_value, put_tool, put_share, put_square = (column.append for column in columns)
    for part in each_measured(facts, name, prices, baseline):
        value, tool, share, own = part or UNTOLD
        put_value(value)
        put_tool(tool)
        put_share(share)
        put_square(own * own)
    is_told = bytes(map(math.isfinite, values))
    values, has_gaps = values if any(is_told) else (), not all(is_told)
    tools, assumed, squares = (column if any(column) else () for column in (tools, assumed, squares))
    for _, rows, ends in groups:
        told = [*compress(rows, _of(is_told, rows))] if has_gaps else rows
        shared = _by_instrument(array("d", _of(tools, rows)), ends)
        made = _figure([*_of(values, told)], shared, _of(assumed, told), _of(squares, told))
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
    parts = sorted(parts, key=itemgetter(0))
    instruments, values, tools, assumed, own = [*zip(*parts, strict=True)] or [()] * 5
    ends = accumulate(sum(1 for _ in of) for _, of in groupby(instruments))
    return _figure([*values], _by_instrument(tools, [*ends]), assumed, [each * each for each in own])


def _figure(values, shared, assumed, squares):
    """The same of ``values``; ``shared``: what each instrument is off by; ``squares``: of what readings are off by."""
    shared = [*shared, exact_sum(assumed)]
    uncertainty = math.sqrt(exact_sum(chain((each * each for each in shared), squares)))
    return {"sum": exact_sum(values), "median": median(values), "uncertainty": uncertainty, "told": len(values)}


def _by_instrument(tools, ends):
    """What each instrument is off by, summed; ``tools`` are empty where all of it is nothing."""
    if len(ends) < 2 or not tools:
        return [exact_sum(tools)]
    return [exact_sum(tools[start:end]) for start, end in pairwise(chain((0,), ends))]


def _of(column, rows):
    """What stands in ``rows`` of a ``column``; of an empty one nothing."""
    return map(column.__getitem__, rows) if column else ()


RANGES = {
    "figures_of": "facts and groups of them",
    "figure": ["parts of purges"],
}
