"""Pictures of what purges cost: marks for an SVG out of numbers and words, the same in both languages.

A picture is {"kind", "wide", "tall", "title", "says", "marks"}: ``title`` and ``says`` are for who cannot see it, and a
mark is [tag, {attribute: text}, text]. Marks have classes and no colours, and what differs in meaning differs in shape
or filling, for eyes and paper without colours. All fits a phone of 360 px with its text at 14 px or more. Numbers are
in the unit that the words name. An amount has its ± as "uncertainty", None for none; a ± that goes past twice the
largest value is cut off there, with the tip of an arrow: else one huge doubt would squeeze all else to nothing.
"""

import math

from tankfoot.quantities.axis import round_numbers
from tankfoot.quantities.format import format_plain
from tankfoot.report.marks import WIDE, box, circle, fitted, path, picture, px, text

LATEST_DRAWN = 60  # points of a chart: more do not stand apart on a phone
RULES = ("above_limit", "below_limit", "run_above", "run_below")  # in the order of the key
LEFT, TOP, BOTTOM = 44.0, 34.0, 196.0  # of a chart
RIGHT = {True: 246.0, False: 318.0}  # with words beside its lines, and without
DATES, KEY, KEY_ROW, KEY_TEXT = 220.0, 236, 24, 30.0
LABELS, LABEL_ROW = 254.0, 18.0  # of its lines
ZERO, END, ROWS, ROW = 10.0, 306.0, 48, 50  # of rows of dots
LONGEST = 36  # characters of a row's name and figures
START, FINISH, BAR = 2.0, 326.0, (4.0, 38.0)  # of a bar
PARTS, PART_ROW, SWATCH = 48, 27, 18.0
HATCH, DOTTED = 8.0, 7.0
CUT_AT = 2.0  # times the largest value
TIP = 4.0


def run_chart(points, limits, words):
    """Amounts in time, one beside the other, with the usual one and the natural limits.

    ``points``: {"value", "uncertainty", "rule" as of signals(), "day" in words}, in time; the LATEST_DRAWN are drawn.
    ``limits``: natural_limits() or None. A low limit that is not above zero is none. Without limits no line joins the
    points: three of them are no trend. ``words``: {"title", "says", "up" over the axis, "centre", "low", "high": ten
    letters beside the lines, "rules": {rule: words in forty letters}}.
    """
    shown = points[-LATEST_DRAWN:]
    lines = _lines(limits, words)
    right = RIGHT[bool(lines)]
    steps = _axis(shown, [value for _, value, _ in lines])
    y = _scale(steps, BOTTOM, TOP)
    places = [(_beside(at, len(shown), right), y(point["value"]), point) for at, point in enumerate(shown)]
    broken = [rule for rule in RULES if any(point["rule"] == rule for point in shown)]
    marks = [
        text("axis", 4.0, 16.0, words["up"], 40, WIDE - 4.0),
        *(mark for step in steps for mark in (
            path("grid", f"M{px(LEFT)} {px(y(step))}H{px(right)}"),
            text("up", LEFT - 6.0, y(step), format_plain(step, 3)),
        )),
        *_labelled(lines, y, right),
        *(path("spread", _whisker(point, steps, y, "V", x)) for x, _, point in places if point["uncertainty"]),
        *([path("series", "M" + "L".join(f"{px(x)} {px(at)}" for x, at, _ in places))] if lines else []),
        *(_point(rule, x, at) for rules in ((None,), RULES) for x, at, point in places
          if (rule := point["rule"]) in rules),
        *[text("day", LEFT, DATES, point["day"]) for point in shown[:1]],
        *[text("last", right, DATES, point["day"]) for point in shown[1:][-1:]],
        *(mark for at, rule in enumerate(broken) for mark in (
            _point(rule, 12.0, KEY + KEY_ROW * at + 8.0),
            text("key", KEY_TEXT, KEY + KEY_ROW * at + 13.0, words["rules"][rule], 40, WIDE - KEY_TEXT),
        )),
    ]
    return picture("run-chart", KEY + KEY_ROW * len(broken), words, marks)


def dots(rows, words):
    """Amounts as dots on lines, one below the other in the order given, from zero.

    ``rows``: {"label", "text": the figure in words, "value" (None where nothing tells it), "uncertainty"}. ``words``:
    {"title", "says", "across" over the axis}.
    """
    told = [row for row in rows if row["value"] is not None]
    steps = _axis(told, [])
    x, tall = _scale(steps, ZERO, END), ROWS + ROW * len(rows)
    marks = [
        text("axis", 4.0, 16.0, words["across"]),
        *(mark for step in steps for mark in (
            path("grid" if step else "zero", f"M{px(x(step))} {ROWS - 4}V{tall}"),
            text("across", x(step), 38.0, format_plain(step, 3)),
        )),
    ]
    for at, row in enumerate(rows):
        top = ROWS + ROW * at
        marks += [
            text("name", ZERO + 6.0, top + 16.0, fitted(row["label"], LONGEST - len(row["text"]))),
            text("figure", END + 12.0, top + 16.0, row["text"]),
            path("track", f"M{px(ZERO)} {top + 29}H{px(END)}"),
        ]
        if row["value"] is not None:
            whisker = [path("spread", _whisker(row, steps, x, "H", top + 29.0))] if row["uncertainty"] else []
            marks += [*whisker, circle("dot", x(row["value"]), top + 29.0, 6.0)]
    return picture("loss-dots", tall + 8, words, marks)


def bar(parts, whole, words):
    """What was lost as one bar, its parts in the order given, the ± of the whole at its end, and what fills each.

    ``parts``: {"part": what fills it, "solids", "beer_in_solids", "overrun" or another, "label", "text", "value"};
    ``whole``: {"label", "text", "value", "uncertainty"}. ``words``: {"title", "says"}.
    """
    ends = [0.0]
    for part in parts:
        ends.append(ends[-1] + max(0.0, part["value"]))
    most = _highest([whole], [ends[-1]]) or 1.0
    x = _scale([0.0, most], START, FINISH)
    marks = [path("empty", box(START, BAR[0], FINISH, BAR[1]))] if not ends[-1] else []
    for part, before, after in zip(parts, ends, ends[1:], strict=False):
        if after > before:
            marks += _filled(part["part"], x(before), BAR[0], x(after), BAR[1])
    if whole["uncertainty"]:
        whisker = _whisker(whole, [0.0, most], x, "H", sum(BAR) / 2.0)
        marks += [path("around", whisker), path("whisker", whisker)]
    for at, part in enumerate(parts):
        top = PARTS + PART_ROW * at
        marks += [
            *_filled(part["part"], START, top, START + SWATCH, top + SWATCH),
            text("name", KEY_TEXT, top + 14.0, part["label"]),
            text("figure", FINISH, top + 14.0, part["text"]),
        ]
    top = PARTS + PART_ROW * len(parts)
    marks += [
        path("sum", f"M{px(START)} {top - 2}H{px(FINISH)}"),
        text("name", KEY_TEXT, top + 16.0, whole["label"]),
        text("figure", FINISH, top + 16.0, whole["text"]),
    ]
    return picture("loss-bar", top + PART_ROW, words, marks)


def apart(heights, row, first, last):
    """``heights``, in their order, moved just so far that they are ``row`` apart, between ``first`` and ``last``.

    >>> apart([10.0, 12.0, 90.0], 20.0, 0.0, 100.0), apart([95.0, 99.0], 20.0, 0.0, 100.0)
    ([10.0, 30.0, 90.0], [80.0, 100.0])
    """
    placed, least, most = [], first, last
    for height in heights:
        placed.append(max(height, least))
        least = placed[-1] + row
    for place in reversed(range(len(placed))):
        placed[place] = min(placed[place], most)
        most = placed[place] - row
    return placed


def _highest(amounts, others):
    """The top of an axis: all values, and as much of each ± as leaves them readable."""
    highest = max([0.0, *(amount["value"] for amount in amounts), *others])
    ends = max([0.0, *(amount["value"] + (amount["uncertainty"] or 0.0) for amount in amounts)])
    return max(highest, min(ends, CUT_AT * highest)) if highest > 0.0 else ends


def _axis(amounts, others):
    return round_numbers(min([0.0, *(amount["value"] for amount in amounts)]), _highest(amounts, others))


def _scale(steps, start, finish):
    """A function from a value to its place, of an axis between two places."""
    return lambda value: start + (value - steps[0]) / (steps[-1] - steps[0]) * (finish - start)


def _beside(at, count, right):
    """Where a point stands across: in its order, since a purge counts as one however long ago it was."""
    return LEFT + 9.0 + (at / (count - 1) if count > 1 else 0.5) * (right - LEFT - 18.0)


def _lines(limits, words):
    """[(kind, value, words)] from the top down."""
    if limits is None:
        return []
    lines = [("limit", "high"), ("centre", "centre")] + ([("limit", "low")] if limits["low"] > 0.0 else [])
    return [(kind, limits[name], words[name]) for kind, name in lines]


def _labelled(lines, y, right):
    """The lines, and their words beside them, no two on one another."""
    heights = apart([y(value) for _, value, _ in lines], LABEL_ROW, TOP, BOTTOM)
    for (kind, value, said), height in zip(lines, heights, strict=True):
        yield path(kind, f"M{px(LEFT)} {px(y(value))}H{px(right)}")
        yield path("leader", f"M{px(right)} {px(y(value))}L{px(LABELS - 2.0)} {px(height)}")
        yield text("label", LABELS, height, said, 10, WIDE - LABELS)


def _whisker(amount, steps, scale, way, aside):
    """The path of a ± along a ``way``, "H" or "V", cut off at the ends of the axis ``steps``."""
    low = max(steps[0], amount["value"] - amount["uncertainty"])
    high = min(steps[-1], amount["value"] + amount["uncertainty"])
    start, end = px(scale(low)), px(scale(high))
    is_cut = amount["value"] + amount["uncertainty"] > steps[-1]
    if way == "V":
        tip = f"M{px(aside - TIP)} {px(scale(high) + TIP)}L{px(aside)} {end}L{px(aside + TIP)} {px(scale(high) + TIP)}"
        return f"M{px(aside)} {start}V{end}{tip if is_cut else ''}"
    tip = f"M{px(scale(high) - TIP)} {px(aside - TIP)}L{end} {px(aside)}L{px(scale(high) - TIP)} {px(aside + TIP)}"
    return f"M{start} {px(aside)}H{end}{tip if is_cut else ''}"


def _point(rule, x, y):
    """A circle, or what stands for a broken rule: a triangle that points past the limit, a square for a run."""
    if rule is None:
        return circle("point", x, y, 3.0)
    if rule == "above_limit":
        return path(rule, f"M{px(x)} {px(y - 8.0)}l8 14h-16Z")
    if rule == "below_limit":
        return path(rule, f"M{px(x)} {px(y + 8.0)}l8 -14h-16Z")
    return path(rule, f"M{px(x - 5.0)} {px(y - 5.0)}h10v10h-10Z")


def _filled(part, left, top, right, bottom):
    """A box and what fills it: lines aslant, dots, or nothing besides."""
    around = path(f"part {part}", box(left, top, right, bottom))
    if part == "solids":
        return [around, path("hatch", "".join(_slants(left, top, right, bottom)))]
    if part == "beer_in_solids":
        return [around, path("dotted", "".join(_grains(left, top, right, bottom)))]
    return [around]


def _slants(left, top, right, bottom):
    """Lines on which x + y is a whole number of steps, within a box."""
    for i in range(math.floor((left + top) / HATCH) + 1, math.ceil((right + bottom) / HATCH)):
        across = i * HATCH
        x, end = max(left, across - bottom), min(right, across - top)
        yield f"M{px(x)} {px(across - x)}L{px(end)} {px(across - end)}"


def _grains(left, top, right, bottom):
    """Dots in rows, each row half a step on: strokes of no length with round ends."""
    for row in range(1, math.ceil((bottom - top) / DOTTED * 2.0)):
        start = left + (0.5 if row % 2 else 1.0) * DOTTED
        for i in range(max(0, math.ceil((right - start) / DOTTED - 0.25))):
            yield f"M{px(start + i * DOTTED)} {px(top + row * DOTTED / 2.0)}h0.1"


RANGES = {
    "run_chart": "points, limits and words",
    "dots": "rows and words",
    "bar": "parts, a whole and words",
    "apart": "heights to move apart",
}
