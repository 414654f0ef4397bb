"""The colour of what runs now, learnt and followed: where it is steady, what is usual in it, what comes instead."""

import math

from tankfoot.watch.colour import chroma, difference, lab, rounded

# Common practice, no source, for all of these.
STEADY_FOR, SPARE = 1.0, 0.3  # s that it must look the same before it is learnt, and what one sample may be late
FEWEST = 4  # samples in that time
STEADY = 3.0  # CIEDE2000 from its mean, root mean square, in that time
STILL = 2.5  # CIEDE2000 between the two halves of that time
SLOW = 8.0  # s over which what is learnt follows a drift
LEAST = 1.5  # CIEDE2000 that a layer is taken to scatter at least
PALER, LIGHTER = 28.0, 0.35  # yeast: less colourful than that, and colour gained no more than that share of lightness
SHADE, SHADE_COLOUR = 2.0, 0.4  # a cloud: no more than so many times the light, and less than that share of it colour
GREENER, GREEN_DARK = 0.1, 65.0  # hops: a* below minus so much of b*, and darker than that
DULL, DARK = 22.0, 30.0  # trub, chunks: less colourful than the one, lighter than the other


def light_of(reading):
    """The light of one reading, [s, r, g, b]."""
    return reading[1:]


def steady(recent):
    """The layer that the latest readings show, None where they are not yet alike; ``recent``: [[s, r, g, b]]."""
    seen = [row for row in recent if row[0] > recent[-1][0] - STEADY_FOR - SPARE]
    if len(seen) < FEWEST or seen[-1][0] - seen[0][0] < STEADY_FOR:
        return None
    back = mean_light(seen)
    colour = lab(back)
    apart = [difference(lab(light_of(row)), colour) for row in seen]
    scatter = math.sqrt(sum(one * one for one in apart) / len(apart))
    half = len(seen) // 2
    if scatter > STEADY or difference(lab(mean_light(seen[:half])), lab(mean_light(seen[half:]))) > STILL:
        return None
    return {"from": seen[0][0], "light": back, "scatter": rounded(scatter),
            "seconds": rounded(seen[-1][0] - seen[0][0])}


def mean_light(rows):
    """The mean light of some readings."""
    return [rounded(sum(row[place] for row in rows) / len(rows)) for place in (1, 2, 3)]


def follow(layer, back, apart, seconds):
    """The layer after one more reading that belongs to it: its light ``back``, ``apart`` in CIEDE2000."""
    learnt = layer["seconds"] + seconds
    share = seconds / min(learnt, SLOW)
    square = layer["scatter"] * layer["scatter"]
    return {
        "from": layer["from"],
        "light": [rounded(one + share * (other - one)) for one, other in zip(layer["light"], back, strict=True)],
        "scatter": rounded(math.sqrt(square + share * (apart * apart - square))),
        "seconds": rounded(learnt),
    }


def usual_scatter(layer):
    """How far, in CIEDE2000, a reading of this layer is usually from its colour."""
    return max(layer["scatter"], LEAST)


def still_solids(before, now):
    """Whether a colour ``now`` after the colour ``before`` is rather another layer of solids than beer.

    Yeast is paler and hardly more colourful than what came before it, trub is dull, hops are green. Beer is colourful,
    or dark. Common practice, no source.

    >>> trub, yeast, gold, hops = [42.0, 5.0, 17.0], [76.0, 3.0, 20.0], [74.0, 8.0, 55.0], [43.0, -9.0, 26.0]
    >>> [still_solids(trub, yeast), still_solids(yeast, hops), still_solids(trub, gold), still_solids(yeast, gold)]
    [True, True, False, False]
    """
    lightness, a, b = now
    lighter, more, colourful = lightness - before[0], chroma(now) - chroma(before), chroma(now)
    dull = colourful < DULL and lightness > DARK
    yeast = lighter > 0.0 and more < LIGHTER * lighter and colourful < PALER
    return dull or yeast or (a < -GREENER * b and lightness < GREEN_DARK)


def only_lighter(before, now):
    """Whether light ``now`` is the light ``before``, only more or less of it: a cloud in the solids, a shadow.

    >>> only_lighter([0.2, 0.15, 0.1], [0.25, 0.19, 0.12]), only_lighter([0.2, 0.15, 0.1], [0.25, 0.17, 0.07])
    (True, False)
    """
    factor = (now[0] + now[1] + now[2]) / max(before[0] + before[1] + before[2], 1e-6)
    if not 1.0 / SHADE < factor < SHADE:
        return False
    as_light = [factor * one for one in before]
    return difference(lab(as_light), lab(now)) < SHADE_COLOUR * difference(lab(before), lab(now))


RANGES = {
    "light_of": ["reading"],
    "steady": ["readings"],
    "mean_light": ["readings"],
    "follow": ["layer", "light", (0.0, 12.0), (0.05, 1.0)],
    "usual_scatter": ["layer"],
    "still_solids": "two colours",
    "only_lighter": "two lights",
}
