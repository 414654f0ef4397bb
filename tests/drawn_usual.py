"""What was usual before, drawn at random: purges of a few tanks, each with its colour change and its rest."""

import math
from datetime import UTC, datetime, timedelta

from drawn_purges import instant, seen

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


def rests_and_losses(rng, most=16):
    """Rests with ties and losses that mostly follow them; now and then nothing differs."""
    count, steepness = rng.choice((10, rng.randint(0, most))), rng.choice((0.0, -1e-3, -1e-3, 1e-3))
    scatter = rng.choice((0.0, 1e-4, 3e-3))
    rests = [rng.choice((2.0, 2.0, 3.0, rng.uniform(0.5, 9.0))) for _ in range(count)]
    if rng.random() < 0.1:
        rests = [2.0] * count
    losses = [rng.choice((0.02, 0.02 + steepness * rest + rng.gauss(0.0, scatter))) for rest in rests]
    return [rests, losses if rng.random() < 0.9 else [0.02] * count]


def rests_and_their_losses(rng):
    rests, losses = rests_and_losses(rng, rng.choice((16, 16, 70)))
    return [{"rest": rest, "loss": loss} for rest, loss in zip(rests, losses, strict=True)]


def results_of_kinds(rng):
    """Bodies of purges of two kinds of solids, some of which tell what left."""
    made = []
    for _ in range(rng.randint(0, 8)):
        amount = {"value": rng.uniform(0.0, 0.1), "uncertainty": rng.choice((None, 0.001, 0.2))}
        result = {} if rng.random() < 0.2 else {"volume_lost": amount}
        made.append({"solids": rng.choice(("trub", "trub", "hops")), "result": result})
    return made


def purges_that_were(rng):
    """Bodies of purges of two tanks, in no order: without a colour change, undone, with a clock set back."""
    made = []
    for _ in range(rng.randint(0, 7)):
        opened = START + timedelta(days=rng.choice((0.0, 2.0, 14.0, rng.uniform(0.0, 40.0))))
        seconds = rng.choice((70.0, -5.0, rng.uniform(1.0, 300.0)))
        change = rng.choice((None, 30.0, seconds, 400.0, -1.0))
        after = {"opened": 0.0, "colour-change": change, "closed": rng.choice((seconds, seconds, seconds, None))}
        events = [{"event": name, "at": instant(opened + timedelta(seconds=gone))}
                  for name, gone in after.items() if gone is not None]
        if rng.random() < 0.2:
            events.insert(rng.randint(0, len(events)), {"event": "undo", "at": instant(opened)})
        names = [name for name in ("beer_in_solids", "overrun") if rng.random() < 0.8]
        made.append({
            "tank": rng.choice(("a", "a", "b", None)), "solids": rng.choice(("trub", "hops")), "events": events,
            "result": {name: {"value": rng.uniform(0.0, 0.05), "uncertainty": None} for name in names},
            **seen(rng),
        })
    fillings = {tank: [instant(START + timedelta(days=rng.uniform(0.0, 40.0))) for _ in range(rng.randint(0, 3))]
                for tank in ("a", "c")}
    return [made, fillings][: rng.choice((1, 2, 2))]


def end_and_beginning(rng):
    days = rng.choice((0.0, 0.05, 14.0, 14.0001, rng.uniform(-1.0, 20.0)))
    closed, opened = instant(START), instant(START + timedelta(days=days))
    fillings = [rng.choice((closed, opened, instant(START + timedelta(days=9.0))))] * rng.choice((0, 0, 1))
    return [rng.choice((None, *[closed] * 4)), opened, fillings][: rng.choice((2, 3, 3))]


START = datetime(2026, 3, 2, 7, tzinfo=UTC)
DRAWN = {
    "rests and their losses": rests_and_their_losses, "results of kinds": results_of_kinds,
}
ARGUMENTS = {
    "past of a tank and a rest": past_of_a_tank_and_a_rest, "rests and losses": rests_and_losses,
    "purges that were": purges_that_were, "an end and a beginning": end_and_beginning,
}
