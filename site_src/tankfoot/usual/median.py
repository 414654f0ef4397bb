"""The middle of some values."""


def median(values):
    """The middle one of ``values``, the mean of the two in the middle of an even number, None of none; in their unit.

    >>> median([5.0, 1.0, 2.0]), median([4.0, 1.0, 2.0, 3.0]), median([])
    (2.0, 2.5, None)
    """
    if not values:
        return None
    ordered, middle = sorted(values), len(values) // 2
    return ordered[middle] if len(values) % 2 else (ordered[middle - 1] + ordered[middle]) / 2.0


RANGES = {
    "median": ["values"],
}
