"""The marks that a picture is made of: see pictures.py, and strips.py."""

import math

WIDE = 328


def fitted(text, most):
    """``text``, cut to ``most`` characters, at least one, the last of which then says that it goes on.

    >>> fitted("Fermenter 12", 12), fitted("Fermenter 12", 6)
    ('Fermenter 12', 'Ferme…')
    """
    return text if len(text) <= most else text[: max(0, most - 1)].rstrip(" ") + "…"


def px(value):
    """A place in a drawing as text, to a tenth, half of it up; at a tenth an SVG is as sharp as any screen.

    >>> px(12.0), px(0.25), px(-0.25)
    ('12', '0.3', '-0.2')
    """
    return f"{math.floor(value * 10.0 + 0.5) / 10.0:.10g}"


def picture(kind, tall, words, marks):
    return {"kind": kind, "wide": WIDE, "tall": tall, "title": words["title"], "says": words["says"], "marks": marks}


def path(kind, d):
    return ["path", {"class": kind, "d": d}, ""]


def text(kind, x, y, said, most=math.inf, room=0.0):
    """``most``: letters for which there is surely ``room``."""
    return ["text", {"class": kind, "x": px(x), "y": px(y), **narrowed(said, most, room)}, said]


def narrowed(said, most, room):
    """The attributes by which a text of more than ``most`` letters is drawn as narrow as its ``room``.

    >>> narrowed("limit 7.1", 10, 74.0), narrowed("upper limit 7.1", 10, 74.0)
    ({}, {'textLength': '74', 'lengthAdjust': 'spacingAndGlyphs'})
    """
    return {"textLength": px(room), "lengthAdjust": "spacingAndGlyphs"} if len(said) > most else {}


def circle(kind, x, y, radius):
    return ["circle", {"class": kind, "cx": px(x), "cy": px(y), "r": px(radius)}, ""]


def box(left, top, right, bottom):
    return f"M{px(left)} {px(top)}H{px(right)}V{px(bottom)}H{px(left)}Z"


RANGES = {
    "picture": [["loss-bar"], [40, 60], [{"title": "Overrun", "says": "4 purges."}], [[], [["path", {}, ""]]]],
    "path": [["grid"], ["M0 0H9"]],
    "text": [["axis"], (-20.0, 400.0), (-20.0, 400.0), ["gal", "", "😀😀 gal"], [0, 4, 6, 10], (10.0, 400.0)],
    "narrowed": [["gal", "", "😀😀 gal"], [0, 4, 6, 10], (10.0, 400.0)],
    "circle": [["dot"], (-20.0, 400.0), (-20.0, 400.0), (1.0, 9.0)],
    "box": [(-20.0, 400.0), (-20.0, 400.0), (-20.0, 400.0), (-20.0, 400.0)],
    "fitted": [["", "FV 1", "Fermenter 12", "Tank 😀😀😀 at the end", "a b c d e f"], [0, 1, 2, 6, 8, 12, 36]],
    "px": [(-20.0, 400.0, 0.25, 0.05, 12.0)],
}
