"""The middle of some values."""

MANY, SAMPLE, ASIDE = 5000, 1000, 60  # of MANY values it sorts only those near the middle of a sample


def median(values):
    """The middle one of ``values``, the mean of the two in the middle of an even number, None of none; in their unit.

    >>> median([5.0, 1.0, 2.0]), median([4.0, 1.0, 2.0, 3.0]), median([])
    (2.0, 2.5, None)
    """
    if not values:
        return None
    middle = len(values) // 2
    ordered, below = _in_the_middle(values, middle)
    upper = ordered[middle - below]
    return upper if len(values) % 2 else (ordered[middle - below - 1] + upper) / 2.0


def _in_the_middle(values, middle):
    """(Those of ``values``, in order, that stand about the place in the ``middle``; how many stand below them)."""
    if len(values) >= MANY:
        sample = sorted(values[:: len(values) // SAMPLE])
        half = len(sample) // 2
        low, high = sample[half - ASIDE], sample[half + ASIDE]
        near, below = [value for value in values if low <= value <= high], sum(value < low for value in values)
        if below < middle < below + len(near):
            return sorted(near), below
    return sorted(values), 0


RANGES = {
    "median": ["values"],
}
