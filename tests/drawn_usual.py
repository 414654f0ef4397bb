"""What was usual before, drawn at random: purges of a few tanks, each with its colour change and its rest."""

import math

RESTS = ((None, None, 0.5, 1.0, 2.0, 3.0, 3.0, 7.0), (1.0, 1.0, 1.3, 1.5), (2.0,), (1.0, 1.5))


def past(rng, count, level, steepness):
    """``count`` purges of one tank about a ``level`` of ln(s): mostly some scatter, now and then none."""
    scatter = rng.choice((0.3, 0.3, 0.3, 0.001, 0.0))
    rests, made = rng.choice(RESTS), []
    for _ in range(count):
        rest = rng.choice(rests)
        y = level + rng.gauss(0.0, scatter) + (steepness * math.log(rest) if rest else 0.0)
        made.append({"seconds": rng.choice((math.exp(y), math.exp(y), math.exp(y), 0.4, 1.0)), "rest": rest})
    return made


def past_of_a_tank_and_a_rest(rng):
    if rng.random() < 0.05:  # hardly anything within the tanks
        return [past(rng, 2, 4.0, 0.0), [one | {"tank": tank} for tank in "abcdef" for one in past(rng, 1, 4.0, 0.0)]]
    apart, steepness = rng.choice((0.0, 0.2, 1.0)), rng.choice((0.0, 0.4))
    own = past(rng, rng.choice((0, 1, 2, 2, 3, 3, 5, 9, 12)), 4.0 + rng.gauss(0.0, apart), steepness)
    others = [one | {"tank": tank} for tank in rng.sample("abcd", rng.randint(0, 4))
              for one in past(rng, rng.choice((1, 2, 4, 8)), 4.0 + rng.gauss(0.0, apart), steepness)]
    rng.shuffle(others)
    return [own, others, rng.choice((None, 0.7, 2.0, 9.0))][: rng.choice((2, 3, 3))]


DRAWN = {}
ARGUMENTS = {"past of a tank and a rest": past_of_a_tank_and_a_rest}
