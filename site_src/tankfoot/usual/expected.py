"""What a purge is expected to let out, from the tank's own past, and what to catch it in."""

import math

from tankfoot.usual.median import median
from tankfoot.usual.purges import tells

FEWEST_OF_KIND = 3  # purges of a kind of solids. Common practice, no source


def expected_loss(purges, solids):
    """The usual volume lost of the bodies of a tank's ``purges``, m3, of one kind of ``solids`` where there are three.

    {"value": the median, "count": of so many, "of_kind": False where it is of any kind}; None where none tells it.

    >>> purges = [{"solids": kind, "result": {"volume_lost": {"value": value, "uncertainty": None}}}
    ...           for kind, value in (("hops", 0.01), ("trub", 0.04), ("trub", 0.03), ("trub", 0.08))]
    >>> expected_loss(purges, "trub"), expected_loss(purges, "hops")["value"]
    ({'value': 0.04, 'count': 3, 'of_kind': True}, 0.035)
    """
    told = [body for body in purges if "volume_lost" in body["result"] and tells(body["result"]["volume_lost"])]
    same = [body for body in told if body["solids"] == solids]
    is_enough = len(same) >= FEWEST_OF_KIND
    taken = same if is_enough else told
    if not taken:
        return None
    value = median([body["result"]["volume_lost"]["value"] for body in taken])
    return {"value": value, "count": len(taken), "of_kind": is_enough}


def buckets_for(volume, bucket):
    """How many buckets of a size take a ``volume``: the next whole one, since one that is full to the brim spills.

    >>> buckets_for(0.03, 0.02), buckets_for(0.04, 0.02), buckets_for(0.001, 0.02)
    (2, 3, 1)
    """
    return math.floor(volume / bucket) + 1


RANGES = {
    "expected_loss": ["results of kinds", ["trub", "hops", "fruit"]],
    "buckets_for": [(0.0, 0.3, 0.02, 0.04), [0.02, 0.018927058919999997]],
}
