"""One best value from several measurements of the same thing."""

import math

COVERAGE = 2.0


def inverse_variance_mean(values, uncertainties):
    """The mean of ``values`` weighted by 1/u^2, and its ±: (mean, 1/sqrt(sum of 1/u^2)). Any unit; each u above 0.

    Source: R. J. Barlow, Statistics (1989), weighted mean (from memory).

    >>> inverse_variance_mean([1.0, 3.0], [1.0, 1.0])
    (2.0, 0.7071067811865475)
    """
    weight = total = 0.0
    for value, uncertainty in zip(values, uncertainties, strict=True):
        share = 1.0 / (uncertainty * uncertainty)
        weight += share
        total += share * value
    return total / weight, 1.0 / math.sqrt(weight)


def agree(values, uncertainties):
    """Whether every two of ``values`` differ by no more than twice their combined ±: |a - b| <= 2 sqrt(ua^2 + ub^2).

    >>> agree([1.0, 3.0], [1.0, 1.0]), agree([1.0, 3.0], [0.5, 0.5])
    (True, False)
    """
    pairs = list(zip(values, uncertainties, strict=True))
    for i, (a, ua) in enumerate(pairs):
        for b, ub in pairs[i + 1 :]:
            if abs(a - b) > COVERAGE * math.sqrt(ua * ua + ub * ub):
                return False
    return True


RANGES = {
    "inverse_variance_mean": "measured twice or more",
    "agree": "measured twice or more",
}
