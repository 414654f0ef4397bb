"""The colours of a run as a strip: one every half second, few enough for two thousand characters; and what is kept.

A strip is {"from": s after opened or None, "every": s a colour, "colours": base64, "open": {"light", "count"} or None}:
three bytes a colour, sRGB, four characters each, so that colours follow one another as their texts do. ``open`` is what
belongs to the colour that is not over yet. It is plain JSON, whole after every colour.
"""

import math
from base64 import b64decode, b64encode

from tankfoot.watch.colour import lab, light, srgb
from tankfoot.watch.layer import light_of, mean_light
from tankfoot.watch.seen import answer

EVERY = 0.5  # s a colour, until there are more than
MOST = 500  # colours: then each two neighbours become one
LETTERS = 4  # a colour
LATEST = 5  # readings that show the beer at the end
MOST_UNSEEN = 20  # stretches that are kept


def empty():
    """The strip before its first colour."""
    return {"from": None, "every": EVERY, "colours": "", "open": None}


def add(strip, t, rgb):
    """The strip after one more colour, sRGB from 0 to 255, ``t`` s after opened.

    Colours of one place in it are averaged in linear light; where none came, the one before goes on.

    >>> strip = add(add(empty(), 1.0, [255.0, 0.0, 0.0]), 1.7, [0.0, 0.0, 255.0])
    >>> strip["colours"], colours_of(shut(strip))
    ('/wAA', [[255, 0, 0], [0, 0, 255]])
    """
    now = {"light": light(rgb), "count": 1}
    if strip["open"] is None:
        return {**strip, "from": t, "open": now}
    every, colours = strip["every"], strip["colours"]
    place, last = math.floor((t - strip["from"]) / every), len(colours) // LETTERS
    if place < last:
        return strip
    if place == last:
        return {**strip, "open": _together(strip["open"], now)}
    colours = shut(strip)
    while place >= MOST:
        colours = halved(_filled(colours, MOST))
        every *= 2.0
        place = math.floor((t - strip["from"]) / every)
    return {**strip, "every": every, "colours": _filled(colours, place), "open": now}


def shut(strip):
    """The text of all colours of a strip."""
    pending = strip["open"]
    return strip["colours"] + (text_of([srgb([one / pending["count"] for one in pending["light"]])]) if pending else "")


def halved(text):
    """The text of half as many colours, each the mean in linear light of two neighbours.

    >>> colours_of(halved(text_of([[255, 0, 0], [0, 0, 0], [9, 9, 9]])))
    [[188, 0, 0], [9, 9, 9]]
    """
    lights = [light(colour) for colour in colours_of(text)]
    pairs = [lights[place : place + 2] for place in range(0, len(lights), 2)]
    return text_of([srgb([sum(channel) / len(pair) for channel in zip(*pair, strict=True)]) for pair in pairs])


def colours_of(text):
    """[[r, g, b]], whole numbers from 0 to 255, of a strip's text."""
    flat = b64decode(text)
    return [[*flat[place : place + 3]] for place in range(0, len(flat), 3)]


def text_of(colours):
    """The text of colours, whole numbers from 0 to 255.

    >>> text_of([[255, 0, 0], [0, 0, 255]])
    '/wAAAAD/'
    """
    return b64encode(bytes(channel for colour in colours for channel in colour)).decode("ascii")


def colour_of(state, sample):
    """The colour, sRGB, that a strip has of a ``sample``, after the step with it to ``state``.

    What was seen is held against the reference, so that two runs look alike in any light; what could not be seen is
    kept as it was read.
    """
    last = state["recent"][-1] if state["recent"] else None
    return srgb(light_of(last)) if last and last[0] == sample["t"] else sample["glass"]


def kept(strip, state):
    """What a purge keeps of a watched run, by its ``strip`` and what was seen; None where there was no colour."""
    if strip["from"] is None:
        return None
    found, recent = answer(state), state["recent"]
    return {
        "from": _thousandth(strip["from"]), "every": strip["every"], "colours": shut(strip),
        "turning_at": _thousandth(found["turning_at"]), "beer_at": _thousandth(found["beer_at"]),
        "unseen": [[_thousandth(start), _thousandth(end), why] for start, end, why in _longest(found["unseen"])],
        "beer_colour": lab(mean_light(recent[-LATEST:])) if state["stage"] == "beer" else None,
        "taken": False,
    }


def _together(one, other):
    both = [a + b for a, b in zip(one["light"], other["light"], strict=True)]
    return {"light": both, "count": one["count"] + other["count"]}


def _filled(colours, count):
    return colours + colours[-LETTERS:] * (count - len(colours) // LETTERS)


def _longest(unseen):
    return sorted(sorted(unseen, key=lambda row: row[0] - row[1])[:MOST_UNSEEN], key=lambda row: row[0])


def _thousandth(t):
    return None if t is None else math.floor(t * 1000.0 + 0.5) / 1000.0


RANGES = {
    "empty": [],
    "add": "strip and colour",
    "shut": ["strip"],
    "halved": ["text of a strip"],
    "colours_of": ["text of a strip"],
    "text_of": ["colours"],
    "colour_of": "state and sample",
    "kept": "strip and watching",
}
