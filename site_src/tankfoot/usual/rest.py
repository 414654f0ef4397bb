"""Whether a day more of rest saves beer: the slope of what a purge loses on the days before it."""

import math
from collections import Counter

from tankfoot.usual.median import median

LATEST_RESTS = 60  # purges: their 1,770 pairs are sorted while a hand waits
FEWEST = 10  # purges: from here on the normal law of the interval holds (Kendall 1975, from memory)
TWO_SIDED_95 = 1.959963984540054  # standard deviations: NIST/SEMATECH e-Handbook, 1.3.6.7.1


def theil_sen(xs, ys):
    """The median of the slopes between any two points with different x, and its interval with a chance of 95 %.

    {"slope", "low", "high"}; None where no two x differ, or where all y are one. One wild point does not move it.

    Source: Sen (1968), Journal of the American Statistical Association 63:1379, (2.6) for ties.

    >>> theil_sen([1.0, 2.0, 3.0, 4.0, 5.0], [5.0, 4.1, 3.0, 2.1, 90.0])["slope"]
    -0.9000000000000001
    """
    points = list(zip(xs, ys, strict=True))
    slopes = sorted((y - other_y) / (x - other_x) for x, y in points for other_x, other_y in points if x > other_x)
    count = len(points)
    variance = (_turns(count) - sum(map(_turns, Counter(xs).values())) - sum(map(_turns, Counter(ys).values()))) / 18.0
    if not slopes or variance <= 0.0:
        return None
    reach = TWO_SIDED_95 * math.sqrt(variance)
    low = max(round((len(slopes) - reach) / 2.0) - 1, 0)
    high = min(round((len(slopes) + reach) / 2.0), len(slopes) - 1)
    return {"slope": median(slopes), "low": slopes[low], "high": slopes[high]}


def _turns(count):
    return count * (count - 1) * (2 * count + 5)


def rest_effect(purges):
    """What a day more of rest does to the loss of a purge here, m3 a day; None where the record cannot tell yet.

    ``purges`` of one tank and one kind of solids, the oldest first: {"rest": days, "loss": beer lost with the solids
    and after them, m3}. {"a_day": below zero where a day more saved, "low", "high", "count"}. It tells only where the
    interval leaves zero out, from ten purges on: with fewer its law does not hold, and a mere chance would be told.

    >>> purges = [{"rest": float(n % 5 + 1), "loss": 0.03 - 0.002 * (n % 5) + 0.0001 * (n % 3)} for n in range(12)]
    >>> told = rest_effect(purges)
    >>> round(told["a_day"], 4), told["count"]
    (-0.002, 12)
    >>> rest_effect(purges[:9])
    """
    latest = purges[-LATEST_RESTS:]
    found = theil_sen([one["rest"] for one in latest], [one["loss"] for one in latest])
    if len(latest) < FEWEST or found is None or found["low"] <= 0.0 <= found["high"]:
        return None
    return {"a_day": found["slope"], "low": found["low"], "high": found["high"], "count": len(latest)}


RANGES = {"theil_sen": "rests and losses", "rest_effect": ["rests and their losses"]}
