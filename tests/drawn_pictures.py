"""What natural limits and pictures are made of, drawn at random: values in time, rows, parts, and their words."""

from tankfoot.report.limits import natural_limits

RULES = (None, None, None, "above_limit", "below_limit", "run_above", "run_below")


def values_in_time(rng):
    """Mostly enough for limits; now and then with outliers, coarse, all equal, or shifted half-way."""
    count = rng.choice((0, 3, 9, 10, 11, rng.randint(10, 40)))
    coarse, shift = rng.choice((None, 0, 0, 2)), rng.choice((0.0, 0.0, 2.0))
    values = [rng.choice((1.0, 1.0, 1.0, 6.0)) * abs(rng.gauss(2.0, 1.0)) + shift * (at > 10) for at in range(count)]
    if rng.random() < 0.1:
        return [3.0 for _ in values]
    return values if coarse is None else [round(value, coarse) for value in values]


def values_and_limits(rng):
    """Values long on one side, on the centre, and on a limit to the bit."""
    limits = rng.choice((None, *[{"centre": 2.0, "moving_range": 1.0, "low": 0.5, "high": 4.0}] * 8))
    if rng.random() < 0.3:
        limits = natural_limits(values_in_time(rng))
    values = []
    while len(values) < 20:
        values += [rng.choice((1.0, 3.0, 2.0, 3.5))] * rng.choice((1, 3, 7, 8, 9))
        values.append(rng.choice((2.0, 0.5, 0.4, 4.0, 4.1, rng.uniform(0.0, 5.0))))
    return [values, limits]


DRAWN = {"values in time": values_in_time}
ARGUMENTS = {"values and limits": values_and_limits}
