"""A sum that is the same in whatever order its numbers come."""

import math


def exact_sum(values):
    """The sum of ``values``, finite floats, rounded once: the float nearest to the true sum; 0.0 of none.

    So a record that was merged in another order, or in parts, costs the same to the last digit. Source: J. R. Shewchuk,
    Adaptive Precision Floating-Point Arithmetic and Fast Robust Geometric Predicates (1997), as in Python's math.fsum.

    >>> exact_sum([1e16, 1.0, -1e16]), exact_sum([0.1] * 10), exact_sum([])
    (1.0, 1.0, 0.0)
    """
    return math.fsum(values)


RANGES = {"exact_sum": ["values of any size"]}
