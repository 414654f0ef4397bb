"""From the ± of what was measured to the ± of what was worked out."""

import math

SHARE_OF_UNCERTAINTY = 0.1
SMALLEST_STEP = 1e-4  # of the input


def propagate(function, inputs, uncertainties, here=None):
    """The ± of each result of ``function``: {name: ±}, only for results that a ± reaches.

    First-order rule: u(y)^2 = sum over i of (dy/dx_i u(x_i))^2, the derivatives by central differences; where one
    side is outside the formula's reach, by the difference that is left. Inputs are taken as independent. What goes
    in (a half division, a standard deviation) is the sense in which the ± comes out.

    Source: JCGM 100:2008 (GUM), 5.1.2 and 5.1.3 note 2.

    ``inputs`` and ``uncertainties`` are dicts of SI floats, the second for some of the names of the first. ``here``:
    what ``function`` makes of ``inputs``, where that is known.

    >>> round(propagate(lambda x: {"y": 3.0 * x["a"]}, {"a": 1.0}, {"a": 0.5})["y"], 9)
    1.5
    """
    here = here or function(inputs)
    squares = {}
    for name, uncertainty in uncertainties.items():
        if not uncertainty > 0.0:
            continue
        step = max(SHARE_OF_UNCERTAINTY * uncertainty, SMALLEST_STEP * abs(inputs[name]))
        above = within_reach(function, {**inputs, name: inputs[name] + step})
        below = within_reach(function, {**inputs, name: inputs[name] - step})
        if above is None and below is None:
            continue
        width = (step if above else 0.0) + (step if below else 0.0)
        upper, lower = above or here, below or here
        for result, value in here.items():
            high, low = upper[result], lower[result]
            if value is None or high is None or low is None:
                continue
            if slope := (high - low) / width:
                squares[result] = squares.get(result, 0.0) + (slope * uncertainty) * (slope * uncertainty)
    return {result: math.sqrt(square) for result, square in squares.items()}


def within_reach(function, inputs):
    """What ``function`` makes of ``inputs``, or None where its formula has no finite answer.

    Python raises on a square root of a negative number or a division by zero, JavaScript answers NaN or infinity:
    here both mean the same.

    >>> within_reach(lambda x: {"y": 1.0 / x["a"]}, {"a": 0.0})
    """
    try:
        results = function(inputs)
    except (ArithmeticError, ValueError):
        return None
    for value in results.values():
        if value is not None and not math.isfinite(value):
            return None
    return results


RANGES = {
    "propagate": "formula, inputs and their ±",
    "within_reach": "formula and inputs",
}
