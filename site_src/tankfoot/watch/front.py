"""A front, where something else comes: whether more than half of it is through, and since when.

All in linear light: streaks of what came and of what comes cover the glass side by side, and their light adds up.
"""

import math

from tankfoot.watch.colour import rounded
from tankfoot.watch.layer import light_of, mean_light

# Common practice, no source, for all of these.
PART = 5.0  # a speed is taken over this part of the time that the turn has lasted,
SHORTEST, LONGEST = 2, 5  # of no fewer and no more samples than these,
CLEAR = 6.0  # one more where the colour is off by fewer scatters than that
SLOWER, UNCLEAR = 0.85, 1.5  # of the highest speed, less this over the scatters that the colour is off
GOING_BACK = -0.25  # of the highest speed: what came goes again
TICK = 0.2  # s between samples
LATEST = 5  # samples that show what came
BLUR = 0.2  # of the way, either side of its half, that counts by parts: noise then moves the instant less


def past_half(recent, was, since, clear):
    """Whether more than half of what runs is new: the light changes slower than it did, and does not go back.

    A front is fastest where half of it is through. ``recent``: [[s, r, g, b]]; ``was``: the light before; ``since``:
    when the turn began, s; ``clear``: how far the colour is off, in scatters.
    """
    far = [_far(light_of(row), was) for row in recent if row[0] > since - 2 * SHORTEST * TICK]
    shortest = SHORTEST if clear > CLEAR else SHORTEST + 1
    n = min(max(math.floor((recent[-1][0] - since) / TICK / PART), shortest), LONGEST)
    if len(far) < 2 * n:
        return False
    speeds = [_sum(far[i + n : i + 2 * n]) - _sum(far[i : i + n]) for i in range(len(far) - 2 * n + 1)]
    highest = max(speeds)
    return GOING_BACK * highest <= speeds[-1] <= (SLOWER - UNCLEAR / clear) * highest


def half(recent, was, since):
    """The instant, s, from which more than half of what runs is new; of several crossings the middle one.

    The share of what is new is how far a reading is on the straight way from the light before to that of the last
    second.
    """
    new = mean_light([row for row in recent[-LATEST:] if row[0] > since] or recent[-1:])
    way = [b - a for a, b in zip(was, new, strict=True)]
    whole = max(_dot(way, way), 1e-12)
    over, before = 0.0, None
    for row in recent:
        share = _dot([v - a for v, a in zip(light_of(row), was, strict=True)], way) / whole
        now = row[0], min(max((share - 0.5 + BLUR) / (2.0 * BLUR), 0.0), 1.0)
        if before:
            over += 0.5 * (now[1] + before[1]) * (now[0] - before[0])
        before = now
    return rounded(recent[-1][0] - over)


def _far(one, other):
    apart = [a - b for a, b in zip(one, other, strict=True)]
    return math.sqrt(_dot(apart, apart))


def _dot(one, other):
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def _sum(values):
    total = 0.0  # as JavaScript adds: sum() of later Pythons keeps what is lost in rounding
    for value in values:
        total += value
    return total


RANGES = {
    "past_half": "readings of a turn and how clear",
    "half": "readings of a turn",
}
