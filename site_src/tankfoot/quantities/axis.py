"""The round numbers that stand beside an axis."""

import math

MOST_PIECES = 4.0
STEPS = [float(f"{digit}e{power}") for power in range(-12, 15) for digit in (1, 2, 5)]


def round_step(span):
    """The smallest step of 1, 2 or 5 times a power of ten that cuts ``span`` into four pieces at most.

    What is longer than all of them is one step.

    >>> round_step(7.0), round_step(8.0), round_step(8.1)
    (2.0, 2.0, 5.0)
    """
    return next((step for step in STEPS if span <= MOST_PIECES * step), span)


def round_numbers(least, most):
    """Numbers in round steps, from the last one that is not above ``least`` to the first that is not below ``most``.

    >>> round_numbers(0.0, 7.0), round_numbers(3.0, 3.0)
    ([0.0, 2.0, 4.0, 6.0, 8.0], [3.0, 3.5])
    """
    step = round_step(most - least if most > least else 1.0)
    first = math.floor(least / step)
    return [(first + i) * step for i in range(max(1, math.ceil(most / step) - first) + 1)]


RANGES = {
    "round_step": [(1e-12, 1e16, 1.0, 4.0, 8.0, 20.0)],
    "round_numbers": [(-20.0, 500.0, 0.0, 10.0), (0.0, 500.0, 0.3, 8.0, 10.0)],
}
