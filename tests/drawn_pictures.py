"""What natural limits and pictures are made of, drawn at random: values in time, rows, parts, and their words."""

import drawn_purges
from drawn_watch import colours
from tankfoot.report.limits import natural_limits
from tankfoot.watch.strip import text_of

RULES = (None, None, None, "above_limit", "below_limit", "run_above", "run_below")
NAMES = ("FV 1", "Fermenter 12", "trub", "The tall tank beside the door to the yard", "Tank 😀", "a < b & c")
PARTS = ("solids", "beer_in_solids", "overrun", "whole")


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


def amount(rng):
    """Mostly a volume with its ±; now and then nothing, less than nothing, no ±, or a huge one."""
    value = rng.choice((0.0, 3.0, rng.uniform(0.0, 8.0), rng.uniform(0.0, 8.0), rng.uniform(0.0, 400.0), -0.6))
    return {"value": value, "uncertainty": rng.choice((None, 0.0, 0.4, rng.uniform(0.0, 5.0), 12.0 * abs(value)))}


def title(rng):
    return {"title": "Overrun", "says": rng.choice(("", "4 purges."))}


def points_limits_words(rng):
    count = rng.choice((0, 1, 2, 12, rng.randint(3, 90)))
    points = [{**amount(rng), "rule": rng.choice(RULES), "day": f"{at % 28 + 1} Mar"} for at in range(count)]
    centre, wide = rng.uniform(0.0, 6.0), rng.choice((0.0, 0.5, rng.uniform(0.0, 9.0)))
    limits = {"centre": centre, "moving_range": wide, "low": centre - wide, "high": centre + wide}
    words = {name: name for name in ("up", "centre", "low", "high")}
    words |= title(rng) | {"rules": {rule: f"told: {rule}" for rule in RULES if rule}}
    return [points, rng.choice((None, limits, limits)), words]


def rows_and_words(rng):
    rows = [{
        **amount(rng), "label": rng.choice(NAMES), "text": rng.choice(("", "0.4 gal", "12.3 ± 0.4 gal")),
    } for _ in range(rng.randint(0, 9))]
    for row in rows:
        row["value"] = rng.choice((*[row["value"]] * 5, None))
    return [rows, title(rng) | {"across": "gal"}]


def parts_and_whole(rng):
    parts = [
        {"part": part, "label": part, "text": "1 gal", "value": amount(rng)["value"]}
        for part in rng.sample(PARTS, rng.randint(0, len(PARTS)))
    ]
    whole = amount(rng)
    if rng.random() < 0.7:
        whole["value"] = sum(part["value"] for part in parts)
    return [parts, whole | {"label": "In all", "text": "9 gal"}, title(rng)]


def watched(rng):
    """What a purge keeps of a watched run, as far as it is drawn."""
    starts = sorted(rng.uniform(0.0, 90.0) for _ in range(rng.choice((0, 0, 1, 3))))
    return {"from": rng.choice((0.0, 1.4)), "every": rng.choice((0.5, 1.0)), "colours": text_of(colours(rng)),
            "unseen": [[start, start + rng.choice((0.1, 9.0)), "fog"] for start in starts]}


def watched_purge_with_its_strip(rng):
    made = drawn_purges.watched_purge(rng)
    if rng.random() < 0.2:
        made["events"] = drawn_purges.events(rng.choice((0.0, 0.05)))
    if "watched" in made:
        made["watched"] |= watched(rng)
    return [made]


def run(rng):
    instants = {name: rng.choice((None, rng.uniform(0.0, 80.0))) for name in ("change", "tapped", "seen")}
    seen = watched(rng)
    start = seen["unseen"][0][0] if seen["unseen"] else 80.0  # a stretch may begin as the port is shut
    return {"run": rng.choice((80.0, start, rng.uniform(5.0, 300.0))), **instants, "watched": seen}


def run_and_words(rng):
    return [run(rng), title(rng) | {name: name for name in ("opened", "closed", "seen", "tapped", "beer", "unseen")}]


def runs_a_scale_and_words(rng):
    rows = [run(rng) | {"label": rng.choice(NAMES), "text": rng.choice(("", "beer 12 s"))}
            for _ in range(rng.randint(0, 4))]
    return [rows, max([1.0, *(row["run"] for row in rows)]), title(rng)]


def heights_to_move(rng):
    heights = [rng.uniform(-10.0, 120.0) for _ in range(rng.randint(0, 6))]
    return [sorted(heights), rng.choice((10.0, 18.0, 40.0)), 0.0, 100.0]


DRAWN = {"values in time": values_in_time}
ARGUMENTS = {
    "values and limits": values_and_limits, "points, limits and words": points_limits_words,
    "rows and words": rows_and_words, "parts, a whole and words": parts_and_whole,
    "heights to move apart": heights_to_move, "watched purge with its strip": watched_purge_with_its_strip,
    "run and words": run_and_words, "runs, a scale and words": runs_a_scale_and_words,
}
