"""Whether the glass can be seen, and if not why; what light it sends back."""

from tankfoot.watch.colour import chroma, difference, lab, light, ratio

# Common practice, no source, for all of these.
TOO_DARK = 0.02  # linear light of the reference's brightest channel
TOO_DARK_BARE = 0.001  # of the glass's, where there is no reference: a stout is darker than a tape
CLIPPED = 250.0  # of 255: what all channels reach is as bright as the camera goes
FOLLOWED = 1.0  # s: how slowly the usual light of the reference follows
JUMP, CAST = 1.7, 1.2  # a channel of the reference off by this factor, or one against another: it is another place,
JUMP_SEEN = 5.0  # ...unless the glass is as before against it: then the lamp or the exposure changed
BRIGHT = 1.4  # times the reference in every channel: a lamp's glare, where beer and solids take some colour away
PALE, GREY = 55.0, 9.0  # lighter than the one, less colourful than the other: foam, fog, water, an empty glass


def pale(colour):
    """Whether a colour is that of foam, fog, sanitizer or an empty glass, and not of what settles in a tank.

    >>> pale([85.0, 1.0, 6.0]), pale([76.0, 3.0, 20.0])
    (True, False)
    """
    return colour[0] > PALE and chroma(colour) < GREY


def look(sample, usual, last):
    """[why nothing can be seen or None, light of the glass against the reference or None, light of the reference].

    ``usual``: the light of the reference up to now, None before it was there; ``last``: the colour seen last, or None.
    """
    glass, reference = light(sample["glass"]), None
    if sample["reference"] is not None:
        reference = light(sample["reference"])
    elif usual is not None:
        return ["reference", None, None]
    if max(reference or glass) < (TOO_DARK if reference else TOO_DARK_BARE):
        return ["dark", None, None]
    if min(sample["glass"]) >= CLIPPED:
        return ["glare", None, reference]
    back = ratio(glass, reference) if reference else glass
    if reference and usual and last and elsewhere(reference, usual) and difference(lab(back), last) > JUMP_SEEN:
        return ["moved", back, reference]
    if reference and min(back) > BRIGHT:
        return ["glare", None, reference]
    return [None, back, reference]


def elsewhere(reference, usual):
    """Whether the light of the reference has jumped, as that of another place does.

    >>> elsewhere([0.5, 0.5, 0.4], [0.52, 0.5, 0.4]), elsewhere([0.3, 0.2, 0.2], [0.52, 0.5, 0.4])
    (False, True)
    """
    factors = [(now + 0.001) / (then + 0.001) for now, then in zip(reference, usual, strict=True)]
    lowest, highest = min(factors), max(factors)
    return highest > JUMP or lowest * JUMP < 1.0 or highest > CAST * lowest


def followed(usual, reference, seconds):
    """The usual light of the reference, ``seconds`` after it was told last."""
    if usual is None or reference is None:
        return reference or usual
    share = seconds / (seconds + FOLLOWED)
    return [one + share * (other - one) for one, other in zip(usual, reference, strict=True)]


RANGES = {
    "pale": ["colour"],
    "look": "sample and before",
    "elsewhere": ["light", "light"],
    "followed": ["light or none", "light or none", (0.01, 2.0)],
}
