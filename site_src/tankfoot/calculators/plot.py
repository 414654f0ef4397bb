"""The curve beside a sum: declared as data, worked out by the sum itself, handed on as the parts of a drawing.

A calculator that declares a ``PLOT`` gets one. Where the curve is not a result over an input, its module has
``curve(x, at)`` besides: the value up at the value ``at`` across, both SI.
"""

import math
from dataclasses import dataclass
from types import SimpleNamespace

from tankfoot.quantities.axis import round_step
from tankfoot.quantities.format import format_number, format_plain, with_unit
from tankfoot.quantities.propagate import within_reach
from tankfoot.quantities.units import units

PIECES = 40
LEFT, RIGHT, TOP, BOTTOM = 68.0, 318.0, 50.0, 190.0  # where the curve lies in a drawing of 328 by 240


@dataclass(frozen=True)
class Plot:
    """What is drawn: ``up`` over ``across``, each a name among the inputs and results; the sum's own is marked.

    The axis across runs from zero to the largest of ``to`` ({name: times its value}) and ``at_least``, and never
    past ``at_most`` (SI). ``marks``: (name in the words, way, what), lines at a name's value or an SI number, on the
    axis "across" or "up"; "even" is the line where both axes are equal, and has no what.
    """

    across: str
    up: str
    to: dict[str, float]
    at_least: float = 0.0
    at_most: float = 1e12
    marks: tuple[tuple[str, str, str | float | None], ...] = ()


@dataclass(frozen=True)
class Axis:
    """One axis: from ``low`` to ``high`` in its unit, which lie at ``start`` and ``finish`` in the drawing."""

    low: float
    high: float
    step: float
    start: float
    finish: float

    def at(self, value):
        """Where a value lies in the drawing, as text."""
        return format_plain(self.start + (value - self.low) / (self.high - self.low) * (self.finish - self.start), 4)

    @property
    def ticks(self):
        """[(place, text)] of each round number."""
        first, last = math.ceil(self.low / self.step), math.floor(self.high / self.step)
        return [(self.at(i * self.step), format_plain(i * self.step)) for i in range(first, last + 1)]


def figure(plot, module, inputs, results, symbols):
    """The drawing of one ``plot`` as texts, or None where there is nothing to draw.

    ``inputs`` and ``results`` in SI, ``symbols`` the units {"across", "up"} it is shown in. ``path`` is the curve,
    ``point`` where the sum itself lies, ``across`` and ``up`` are the ticks, ``marks`` the lines; ``says`` has what
    the sentence is made of: {x} and {y} of the sum, of the start (0), the end (1) and halfway (h).
    """
    known = {**inputs, **results}
    end = min(plot.at_most, max(plot.at_least, *((known[name] or 0.0) * times for name, times in plot.to.items())))
    sampled = _sampler(plot, module, inputs, symbols)
    here = sampled(known[plot.across])
    taken = [sampled(end * i / PIECES) for i in range(PIECES + 1)]
    samples = sorted(sample for sample in [*taken, here] if sample)
    if not here or not end > 0.0 or len(samples) <= PIECES:
        return None
    across = _axis(0.0, samples[-1][0], LEFT, RIGHT)
    lines = _lines(plot, known, symbols)
    up = _upward([height for _, height in samples], [what for _, way, what in lines if way == "up"])
    ends = {"": here, "0": samples[0], "1": samples[-1], "h": taken[PIECES // 2] or here}
    return {
        "path": "M" + "L".join(f"{across.at(x)} {up.at(y)}" for x, y in samples),
        "point": [across.at(here[0]), up.at(here[1])],
        "across": across.ticks,
        "up": up.ticks,
        "floor": up.at(0.0),
        "marks": [
            {"name": name, "ends": drawn, "label": _label(way, drawn, samples, what)}
            for name, way, what in lines
            for drawn in _drawn(way, what, across, up)
        ],
        "says": {
            f"{letter}{suffix}": with_unit(format_number(value), symbols[axis])
            for suffix, pair in ends.items()
            for letter, axis, value in zip("xy", ("across", "up"), pair, strict=True)
        },
    }


def _sampler(plot, module, inputs, symbols):
    """A function from SI across to (across, up) in the units shown, None out of the formula's reach."""
    def value(x):
        if hasattr(module, "curve"):
            return {plot.up: module.curve(SimpleNamespace(**x), x["at"])}
        return module.compute(SimpleNamespace(**{**x, plot.across: x["at"]}))

    def sampled(at):
        reached = within_reach(value, {**inputs, "at": at})
        return reached and (_shown(at, symbols["across"]), _shown(reached[plot.up], symbols["up"]))

    return sampled


def _shown(si, symbol):
    return (si - units()[symbol].offset) / units()[symbol].factor


def _lines(plot, known, symbols):
    """[(name, way, value shown)] of the marks that have a value."""
    values = [(name, way, known.get(what, what)) for name, way, what in plot.marks]
    return [
        (name, way, None if way == "even" else _shown(what, symbols[way]))
        for name, way, what in values
        if way == "even" or what is not None
    ]


def _axis(low, high, start, finish):
    return Axis(low, high, round_step(high - low), start, finish)


def _upward(heights, limits):
    """The axis up, in whole steps: to the top of the curve, and to the first limit above it."""
    low, highest = min(0.0, *heights), max(0.0, *heights)
    high = min([limit for limit in limits if limit >= highest], default=highest)
    step = round_step(high - low)
    return _axis(math.floor(low / step) * step, math.ceil(high / step) * step, BOTTOM, TOP)


def _drawn(way, what, across, up):
    """The ends of a mark's line [x, y, x, y], where it lies within the axes."""
    if way == "even":
        end = min(across.high, up.high)
        if end > 0.0:
            yield [across.at(0.0), up.at(0.0), across.at(end), up.at(end)]
    elif way == "up" and what <= up.high:
        yield [across.at(across.low), up.at(what), across.at(across.high), up.at(what)]
    elif way == "across" and what <= across.high:
        yield [across.at(what), up.at(up.low), across.at(what), up.at(up.high)]


def _label(way, drawn, samples, what):
    """Where a mark's name stands, [side of the place it is on, x, y]: over a limit where the curve is farther off."""
    x0, y0, x, y = map(float, drawn)
    if way == "even":
        return ["start", format_plain(x0 + 0.4 * (x - x0) + 10.0), format_plain(y0 + 0.4 * (y - y0) + 8.0)]
    if way == "across":
        side, aside = ("end", -7.0) if x > 0.5 * (LEFT + RIGHT) else ("start", 7.0)
        return [side, format_plain(x + aside), format_plain(y + 12.0)]
    first, second = (min(abs(height - what) for _, height in half) for half in _halves(samples))
    if first > second:
        return ["start", format_plain(x0 + 5.0), format_plain(y - 5.0)]
    return ["end", format_plain(x), format_plain(y - 5.0)]


def _halves(samples):
    return samples[: PIECES // 2], samples[PIECES // 2 :]


def caption(drawn, words, dashed):
    """The picture in a sentence or two: a calculator's ``words`` filled in, and the marks that are ``dashed``."""
    says = words["says"].format(**drawn["says"])
    marks = ", ".join(words["marks"][mark["name"]] for mark in drawn["marks"])
    return f"{says} {dashed.format(marks=marks)}" if marks else says


RANGES = {
    "figure": "sum with a curve",
    "caption": "drawn curve",
}
