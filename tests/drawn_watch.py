"""Colours, readings of a glass, and what has been seen of an invented run, drawn at random."""

from functools import cache

from glass import KINDS, series
from tankfoot.watch.colour import lab, light
from tankfoot.watch.seen import begin, step
from tankfoot.watch.strip import MOST, add, empty, text_of

LONG = 40  # samples of a drawn run
SEEDS = 4  # runs of each kind, from which it is cut


def rgb(rng):
    grey = rng.uniform(0.0, 255.0)
    any_other = [rng.uniform(0.0, 255.0) for _ in range(3)]
    return rng.choice((any_other, any_other, [grey] * 3, [0.0, 255.0, grey], [10.31475, 10.3148, 10.3147]))


def seen_light(rng):
    return light(rgb(rng))


def colour(rng):
    return lab(seen_light(rng))


def near(rng, light):
    """Light that is much like another: lighter, of another cast, or the same."""
    all_of_it = rng.choice((1.0, rng.uniform(0.4, 2.2)))
    return [all_of_it * one * rng.choice((1.0, rng.uniform(0.9, 1.1))) for one in light]


def two_lights(rng):
    one = seen_light(rng)
    return [one, rng.choice((near(rng, one), near(rng, one), seen_light(rng)))]


def two_colours(rng):
    given = [lab(one) for one in two_lights(rng)]
    opposite = [given[0], [given[0][0], -given[0][1], -given[0][2]]]
    return rng.choice((given, given, given, opposite, [given[0], [50.0, 0.0, 0.0]], [given[0], given[0]]))


@cache
def of_kind(kind, seed):
    return series(kind, seed)[1]


def a_run(rng):
    """Samples from anywhere in an invented run, now and then one that comes twice."""
    samples = of_kind(rng.choice(list(KINDS)), rng.randrange(SEEDS))
    start = rng.choice((0, 0, rng.randrange(max(len(samples) - 20, 1))))
    return [one for one in samples[start : start + LONG] for _ in range(rng.choice((1,) * 50 + (2,)))]


def watching(rng):
    state = begin(beer_colour(rng))
    for sample in a_run(rng):
        state = step(state, sample)
    return state


def state_and_sample(rng):
    samples, state = a_run(rng), begin(beer_colour(rng))
    last = rng.randrange(len(samples))
    for sample in samples[:last]:
        state = step(state, sample)
    return [state, samples[last]]


def beer_colour(rng):
    return rng.choice((None, None, colour(rng), [75.0, 8.0, 52.0]))


def readings(rng):
    """Some latest readings, of one colour or of a front."""
    one, other = two_lights(rng)
    scatter, middle, width = rng.choice((0.0, 0.02, 0.2)), rng.uniform(0.0, 6.0), rng.uniform(0.1, 3.0)
    rows = []
    for i in range(rng.randint(1, 40)):
        t = round(0.2 * i + rng.uniform(0.0, 0.05), 3)
        share = min(max((t - middle) / width + 0.5, 0.0), 1.0)
        mixed = (a + (b - a) * share for a, b in zip(one, other, strict=True))
        rows.append([t, *(value * rng.uniform(1.0 - scatter, 1.0) for value in mixed)])
    return rows


def a_turn(rng):
    rows = readings(rng)
    return [rows, rng.choice((seen_light(rng), rows[0][1:])), rng.uniform(-0.1, rows[-1][0])]


def layer(rng):
    return {"from": rng.uniform(0.0, 9.0), "light": seen_light(rng), "scatter": rng.uniform(0.0, 4.0),
            "seconds": rng.uniform(1.0, 20.0)}


def sample_and_before(rng):
    """One sample, with the usual light of its reference and the colour seen last, or without them."""
    glass, reference = rgb(rng), rng.choice((None, rgb(rng), [rng.uniform(150.0, 230.0)] * 3))
    usual = rng.choice((None, seen_light(rng), near(rng, light(reference or glass))))
    dark = rng.choice((1.0, 1.0, 1.0, 0.05))
    sample = {"t": 1.0, "glass": [dark * v for v in glass], "reference": reference and [dark * v for v in reference]}
    return [sample, usual, rng.choice((None, colour(rng)))]


def colours(rng):
    return [[rng.randrange(256) for _ in range(3)] for _ in range(rng.choice((1, 2, 3, 7, 40, 300)))]


def strip(rng):
    """A strip of some colours, now and then one that is as long as it may be."""
    made, t = empty(), rng.uniform(0.0, 3.0)
    for _ in range(rng.randint(0, 12)):
        made, t = add(made, t, rgb(rng)), t + rng.choice((0.2, 0.2, 0.5, 3.0))
    if made["open"] and rng.random() < 0.3:
        made["colours"] = text_of([[rng.randrange(256) for _ in range(3)] for _ in range(MOST - rng.choice((1, 2, 9)))])
    return made


def strip_and_watching(rng):
    """What is kept of: now and then of more stretches without sight than are kept, some of them as long as others."""
    state = watching(rng)
    if rng.random() < 0.5:
        starts = sorted(rng.sample(range(200), rng.randint(15, 40)))
        state["unseen"] = [[start, start + rng.choice((0.5, 0.5, 1.0, rng.uniform(0.1, 3.0))), "fog"]
                           for start in starts]
    return [strip(rng), state]


def strip_and_colour(rng):
    """A strip and the next colour: of the same place, of the next, after a gap, long after, or from before."""
    made = strip(rng)
    last = (made["from"] or 0.0) + len(made["colours"]) // 4 * made["every"]
    return [made, last + rng.choice((-0.7, 0.0, 0.2, 0.5, 0.6, 5.0, 249.5, 3600.0, 1e6)), rgb(rng)]


DRAWN = {
    "rgb": rgb, "light": seen_light, "light or none": lambda rng: rng.choice((None, seen_light(rng))), "colour": colour,
    "reading": lambda rng: readings(rng)[-1], "readings": readings,
    "layer": layer, "watching": watching, "samples": a_run, "beer colour": beer_colour,
    "light beyond": lambda rng: [rng.uniform(0.9, 1.3) * one - rng.choice((0.0, 0.01)) for one in seen_light(rng)],
    "colours": colours, "strip": strip, "text of a strip": lambda rng: text_of(colours(rng)),
}
ARGUMENTS = {
    "two lights": two_lights, "two colours": two_colours, "state and sample": state_and_sample,
    "strip and colour": strip_and_colour, "strip and watching": strip_and_watching,
    "sample and before": sample_and_before, "readings of a turn": a_turn,
    "readings of a turn and how clear": lambda rng: [*a_turn(rng), rng.uniform(2.0, 40.0)],
}
