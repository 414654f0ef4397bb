"""When the colour will change: an interval for the next purge of a tank, from its own past and that of other tanks.

A purge is {"seconds": from opened to the colour change, "rest": days since the purge before it, None where nobody
knows}, one of another tank also {"tank"}. All are of one kind of solids. The derivation stands in docs/methods.md.
"""

import math

from tankfoot.usual.student import student_quantile

COVERS = 0.8
FEWEST_OWN = 3
FEWEST_TO_BORROW = 2  # of its own, where others lend
FEWEST_BORROWED = 6
FEWEST_LENDERS = 2  # tanks
QUICKEST = 1.0  # s: what is quicker is a slip of the hand. Common practice, no source
CLOSEST = 0.01  # of the time, as a standard deviation: no hand taps closer. Common practice, no source
ENOUGH = 8  # degrees of freedom of a slope. Common practice, no source
SPREAD = 0.2  # of ln(days) within tanks, as a standard deviation: less tells no slope. Common practice, no source


def change_interval(own, others, rest=None):
    """When the colour of a purge with ``rest`` days of rest changes, with a chance of 80 %, in s; None where silent.

    {"low", "middle", "high", "count": of ``own`` that it rests on, "borrowed": of ``others``}.

    It is silent with less than three purges of the tank's own; two are enough where six purges of two other tanks or
    more stand beside them. In simulated cellars an interval from fewer was as wide as no answer (its end five times
    its beginning), or covered 73 % where a single other tank lent. How wide it is never makes it silent: only those
    that are narrow by chance would be shown, and they cover less.

    >>> own = [{"seconds": seconds, "rest": None} for seconds in (60.0, 80.0, 70.0, 90.0)]
    >>> {name: round(value) for name, value in change_interval(own, []).items()}
    {'low': 54, 'middle': 74, 'high': 102, 'count': 4, 'borrowed': 0}
    >>> change_interval(own[:2], [])
    """
    tanks = _by_tank(own, others)
    count, borrowed = len(tanks[0]), sum(map(len, tanks[1:]))
    lends = borrowed >= FEWEST_BORROWED and len(tanks) > FEWEST_LENDERS
    if count < (FEWEST_TO_BORROW if lends else FEWEST_OWN):
        return None
    slope = _slope(tanks, rest)
    found = _foretold([[_at_rest(point, slope, rest) for point in points] for points in tanks], slope)
    reach = student_quantile(0.5 + 0.5 * COVERS, found["freedom"]) * math.sqrt(found["variance"])
    low, middle, high = (math.exp(found["middle"] + off) for off in (-reach, 0.0, reach))
    return {"low": low, "middle": middle, "high": high, "count": count, "borrowed": borrowed}


def _by_tank(own, others):
    """The points of each tank that has some, {"y": ln(s), "x": ln(days) or None}; its own first, even of none."""
    found = {}
    for purge in others:
        found.setdefault(purge["tank"], []).append(purge)
    lists = [[_point(purge) for purge in purges if purge["seconds"] >= QUICKEST] for purges in (own, *found.values())]
    return [lists[0], *filter(None, lists[1:])]


def _point(purge):
    return {"y": math.log(purge["seconds"]), "x": math.log(purge["rest"]) if purge["rest"] else None}


def _slope(tanks, rest):
    """The slope of ln(seconds) on ln(days) within tanks; None where there is not enough to tell it.

    {"value", "spread": the sum of squares of ln(days) within tanks}.
    """
    known = [[point for point in points if point["x"] is not None] for points in tanks]
    known = [points for points in known if points]
    freedom = sum(map(len, known)) - len(known) - 1
    if not rest or freedom < ENOUGH:
        return None
    across = spread = 0.0
    for points in known:
        x, y = (_mean([point[axis] for point in points]) for axis in "xy")
        spread += sum((point["x"] - x) * (point["x"] - x) for point in points)
        across += sum((point["x"] - x) * (point["y"] - y) for point in points)
    return {"value": across / spread, "spread": spread} if spread >= SPREAD * SPREAD * freedom else None


def _at_rest(point, slope, rest):
    """A point as it would be after this ``rest``: {"y", "off": how far it was away}; as it is where nobody knows."""
    if slope is None or point["x"] is None:
        return {"y": point["y"], "off": 0.0}
    off = point["x"] - math.log(rest)
    return {"y": point["y"] - slope["value"] * off, "off": off}


def _foretold(tanks, slope):
    """{"middle", "variance", "freedom"} of the next one of the first of the ``tanks``."""
    counts, total = [len(points) for points in tanks], sum(map(len, tanks))
    means = [_mean([point["y"] for point in points]) for points in tanks]
    squares = sum((point["y"] - mean) * (point["y"] - mean) for points, mean in zip(tanks, means, strict=True)
                  for point in points)
    freedom = total - len(tanks) - (slope is not None)
    within = max(squares / freedom, CLOSEST * CLOSEST)
    shrunk = _shrunk(counts, means, within, freedom) if len(tanks) > 1 else {
        "weights": [1.0], "variance": within + within / total, "freedom": freedom,
    }
    middle, off = (sum(weight * value for weight, value in zip(shrunk["weights"], values, strict=True))
                   for values in (means, [_mean([point["off"] for point in points]) for points in tanks]))
    tilt = 0.0 if slope is None else off * off * within / slope["spread"]
    return {"middle": middle, "variance": shrunk["variance"] + tilt, "freedom": shrunk["freedom"]}


def _shrunk(counts, means, within, freedom):
    """The ``weights`` of the tanks' ``means`` in what is foretold for the first, its ``variance`` and ``freedom``.

    ``within``: the mean square within tanks, with so much ``freedom``.
    """
    total, apart = sum(counts), len(counts) - 1
    grand = sum(count * mean for count, mean in zip(counts, means, strict=True)) / total
    between = sum(count * (mean - grand) * (mean - grand) for count, mean in zip(counts, means, strict=True)) / apart
    usual_count = (total - sum(count * count for count in counts) / total) / apart
    tau2 = max(0.0, (between - within) / usual_count)
    spans = [count * tau2 + within for count in counts]
    weights = [count / span for count, span in zip(counts, spans, strict=True)]
    whole, left = sum(weights), within / spans[0]
    variance = within + tau2 * left + left * left / whole
    # the variance's derivatives by the two components, then what the two mean squares do to it
    whole_by_within = -sum(weight * weight / count for weight, count in zip(weights, counts, strict=True))
    whole_by_tau2 = -sum(weight * weight for weight in weights)
    bent = left * left / (whole * whole)
    by_tau2 = left * left - 2.0 * left * left * weights[0] / whole - bent * whole_by_tau2
    by_within = 1.0 + tau2 * weights[0] * tau2 / spans[0] + 2.0 * left * tau2 * weights[0] / (spans[0] * whole)
    by_within -= bent * whole_by_within
    is_apart = tau2 > 0.0
    from_between = by_tau2 / usual_count * between if is_apart else 0.0
    from_within = (by_within - by_tau2 / usual_count if is_apart else by_within) * within
    told = variance * variance / (from_within * from_within / freedom + from_between * from_between / apart)
    shares = [left * weight / whole for weight in weights]
    shares[0] += 1.0 - left
    return {"weights": shares, "variance": variance, "freedom": max(told, 1.0)}  # rounded, it may be under


def _mean(values):
    return sum(values) / len(values)


RANGES = {"change_interval": "past of a tank and a rest"}
