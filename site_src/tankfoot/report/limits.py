"""How far a figure goes from purge to purge by itself, and what goes further: an individuals chart.

Two rules of the Western Electric handbook (Statistical Quality Control Handbook, 1956, from memory) and no more, since
each rule more breaks more often in a cellar where nothing changed: a value beyond a limit, and eight in a row on one
side of the centre.

A volume lost is no normal value: it is skewed, and a single purge that nobody watched is ten times the usual. That
purge pulls up the mean and the mean moving range: it hides itself, and the eight good ones after it look like an
improvement. So the median form is what is shown, and its centre is the usual value, as everywhere else. Its price is
measured by tests/test_limits.py. Of later purges, where nothing changed and values are normal, 3.7 % are beyond the
limits of the first ten (2.3 % in the mean form), 0.7 % beyond those of sixty, 0.3 % beyond known limits; 3.3 %, 1.1 %
and 0.8 % end eight in a row. With less than LEAST it would be worse: no limits then, and no word.
"""

from tankfoot.report.exact import exact_sum
from tankfoot.usual.median import median

LEAST = 10  # values; as many purges as a baseline has
RUN = 8
# How many moving ranges a limit is from the centre: three standard deviations, over what the mean and the median of the
# difference of two normal values are in standard deviations (d2 and d4 of a pair).
FORMS = {"mean": 3.0 / 1.128, "median": 3.0 / 0.954}


def natural_limits(values, form="median"):
    """{"centre", "moving_range", "low", "high"} of ``values`` in time; None where they do not tell.

    In the "mean" form: mean ± 3 / 1.128 of the mean moving range, that is the mean of |x_i - x_(i-1)|. In the "median"
    form medians take the place of means, ± 3 / 0.954, and where half of the moving ranges are zero it is the mean of
    them that counts. The baseline's values may be others than those that are plotted. They tell nothing where they are
    fewer than LEAST, or all equal. ``low`` may be under zero: then there is no low limit to a volume.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, Individuals Control Charts; for the median form
    D. J. Wheeler, Understanding Variation (from memory).

    >>> natural_limits([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1], "mean")["centre"]
    50.81
    """
    if len(values) < LEAST:
        return None
    ranges = [abs(after - before) for before, after in zip(values, values[1:], strict=False)]
    centre, moving_range, times = _middle(values, form), _middle(ranges, form), FORMS[form]
    if not moving_range:
        moving_range, times = _middle(ranges, "mean"), FORMS["mean"]
    if not moving_range:
        return None
    wide = times * moving_range
    return {"centre": centre, "moving_range": moving_range, "low": centre - wide, "high": centre + wide}


def _middle(values, form):
    return median(values) if form == "median" else exact_sum(values) / len(values)


def signals(values, limits):
    """What rule each of ``values``, in time, breaks: "above_limit", "below_limit", "run_above", "run_below" or None.

    A run is told from its eighth value on; a value on the centre is on neither side. Without limits nothing is broken.

    >>> signals([2.0, 9.0, 1.0], {"centre": 2.0, "moving_range": 1.0, "low": -1.0, "high": 5.0})
    [None, 'above_limit', None]
    """
    if limits is None:
        return [None for _ in values]
    told, side, length = [], 0, 0
    for value in values:
        now = (value > limits["centre"]) - (value < limits["centre"])
        side, length = now, length + 1 if now == side else 1
        told.append(_broken(value, limits, side, length))
    return told


def _broken(value, limits, side, length):
    if value > limits["high"]:
        return "above_limit"
    if value < limits["low"]:
        return "below_limit"
    if length < RUN or not side:
        return None
    return "run_above" if side > 0 else "run_below"


RANGES = {
    "natural_limits": ["values in time", ["mean", "median"]],
    "signals": "values and limits",
}
