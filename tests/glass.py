"""An invented sight glass, and a camera that looks at it: series with a change that is known, one a seed.

What runs is told as light sent back, linear, of a white: first what is in the glass before it is full, then layers of
solids, then beer. A front is a logistic: streaks of what came and of what comes cover the glass side by side, and their
light adds up, so half of what runs is beer where half of the light is the beer's. Common practice, no source, for all
numbers: nobody measured them.
"""

import math
import random
from dataclasses import dataclass, field

RATE = 5.0  # samples a second
WHITE = (0.78, 0.78, 0.74)  # the tape beside the glass

# sRGB of what may run, by eye.
TRUB = ((92, 74, 52), (120, 98, 70), (70, 58, 40), (104, 92, 66), (58, 46, 34))
CREAM = ((205, 186, 152), (214, 198, 168), (192, 172, 138), (220, 204, 176))
HOPS = ((98, 106, 58), (120, 124, 74), (86, 92, 52))
FRUIT = ((128, 34, 42), (150, 52, 60), (106, 28, 46), (164, 70, 66))
GOLD = ((222, 178, 66), (230, 192, 92), (214, 160, 52), (236, 206, 118))
HAZE = ((216, 188, 138), (208, 178, 130))
HAZY = ((224, 182, 100), (218, 172, 88), (228, 192, 116))
AMBER = ((168, 92, 34), (142, 70, 28), (184, 112, 46))
DARK = ((36, 22, 16), (54, 30, 18))
EMPTY = ((150, 152, 150), (96, 98, 100), (182, 182, 178), (60, 62, 64))
FOAM = ((236, 232, 222), (226, 220, 206))


@dataclass
class Scene:
    """One run as it is made: colours in linear light, instants in seconds from opened."""

    kind: str
    layers: list
    beer: tuple | None
    fill: float = 2.0  # s, until the glass is full
    starts: list = field(default_factory=list)  # of the layers after the first, the middle of the front to it
    change: float | None = None  # s, the middle of the front to the beer
    end: float = 40.0
    width: float = 1.5  # s, from a tenth to nine tenths of a front
    grain: float = 0.02  # what the solids' light scatters from sample to sample, of itself
    faults: dict = field(default_factory=dict)
    course: list | None = None  # the share of beer in what is in the glass, five times a second, of a simulated tank

    def beer_share(self, t):
        """How much of the light in the glass at ``t`` is the beer's."""
        if self.course is not None:
            place = min(max(t, 0.0) * RATE, len(self.course) - 1.001)
            before, after = self.course[int(place) : int(place) + 2]
            return before + (after - before) * (place - int(place))
        return _front(t, self.change, self.width) if self.beer else 0.0


def linear(rgb):
    return tuple(v / 255 / 12.92 if v <= 10.31475 else ((v / 255 + 0.055) / 1.055) ** 2.4 for v in rgb)


def _encoded(v):
    v = min(max(v, 0.0), 1.0)
    return 255 * (12.92 * v if v <= 0.0031308 else 1.055 * v ** (1 / 2.4) - 0.055)


def varied(rng, colours, spread=0.12):
    """One of ``colours``, a little lighter or darker and of another cast."""
    all_of_it = math.exp(rng.gauss(0.0, spread))
    return tuple(min(v * all_of_it * math.exp(rng.gauss(0.0, 0.04)), 0.95) for v in linear(rng.choice(colours)))


def _mixed(one, other, share):
    return tuple(a + (b - a) * share for a, b in zip(one, other, strict=True))


def _front(t, middle, width):
    return 1.0 / (1.0 + math.exp(min(max(-(t - middle) * 4.394 / width, -60.0), 60.0)))


def scene(kind, rng):
    """A run of one kind of KINDS."""
    solids, beer, faults = KINDS[kind]
    made = Scene(kind, [varied(rng, s) for s in solids], beer and varied(rng, beer), faults=dict(faults))
    made.fill = rng.uniform(0.6, 4.0)
    made.width = faults.get("width") or math.exp(rng.uniform(math.log(0.5), math.log(3.0)))
    made.grain = faults.get("grain") or rng.uniform(0.008, 0.03)
    at = made.fill
    for _ in made.layers:
        at += rng.uniform(7.0, 30.0)
        made.starts.append(at)
    made.change = made.starts.pop() if beer else None
    if faults.get("at_once"):
        made.change, made.starts = made.fill - 20.0, []
    made.end = at + (0.0 if faults.get("at_once") else 3.0 * made.width) + 4.0
    return made


def colour_at(made, t):
    """What the glass sends back at ``t``, before grain."""
    light = made.layers[0]
    for layer, middle in zip(made.layers[1:], made.starts, strict=False):
        light = _mixed(light, layer, _front(t, middle, 1.2))
    if made.beer:
        light = _mixed(light, made.beer, made.beer_share(t))
    return light


def series(kind, seed):
    """(Scene, samples) of one run: the samples as the core takes them."""
    rng = random.Random(f"{seed} {kind}")
    made = scene(kind, rng)
    return made, samples_of(made, rng)


def samples_of(made, rng, event=None):
    """What a camera sees of a run, five samples a second.

    ``event``: when what disturbs it begins, for two seconds; drawn where None.
    """
    camera = _Camera(rng, made.faults, made)
    if event is not None:
        camera.event, camera.lasts = event, 2.0
    glass = _Glass(rng, made)
    glass.fog_from = glass.fog_from if event is None else event
    samples = []
    for i in range(int(made.end * RATE)):
        t = i / RATE + rng.uniform(-0.02, 0.02) * (i > 0)
        samples.append(camera.sample(t, glass.at(t)))
    return [one for one in samples if one]


class _Glass:
    """What is in the glass: the layers, and what disturbs them."""

    def __init__(self, rng, made):
        self.rng, self.made, self.faults = rng, made, made.faults
        self.empty = varied(rng, EMPTY)
        self.foam = varied(rng, FOAM, 0.05)
        self.chunk, self.chunk_left, self.grain = None, 0, [0.0, 0.0, 0.0]
        self.cloud = [(rng.uniform(0.0, 1.0), rng.uniform(4.0, 12.0)) for _ in range(3)]
        self.drift = rng.uniform(-0.25, 0.25)
        self.foamy = made.fill + rng.uniform(2.0, 12.0)
        self.fog_from = made.fill + rng.uniform(5.0, 12.0)

    def at(self, t):
        rng, made = self.rng, self.made
        share = made.beer_share(t)
        light = colour_at(made, t)
        if t < made.fill:
            passing = rng.random()
            light = _mixed(_mixed(self.empty, self.foam, passing * 0.8), light, max(0.0, 1 - (made.fill - t) / 0.6))
        turbid = 1.0 - 0.7 * share
        # what passes is not new at every sample: streaks last some tenths of a second
        self.grain = [0.5 * g + rng.gauss(0.0, made.grain) for g in self.grain]
        common = rng.gauss(0.0, made.grain)
        light = tuple(v * math.exp((common + 0.4 * g) * turbid) for v, g in zip(light, self.grain, strict=True))
        if strength := self.faults.get("clouds"):
            wave = sum(math.sin(2 * math.pi * (t / long + phase)) for phase, long in self.cloud) / 3.0
            light = tuple(v * math.exp(strength * turbid * wave) for v in light)
        if strength := self.faults.get("drift"):
            light = tuple(v * math.exp(strength * self.drift * min(t, 30.0) / 10.0 * turbid) for v in light)
        if how_many := self.faults.get("chunks"):
            light = self._chunk(light, t, how_many * (turbid - 0.25))
        if self.faults.get("foam") and self.foamy < t < self.foamy + 2.0:
            light = _mixed(light, self.foam, rng.uniform(0.5, 1.0))
        if self.faults.get("fog"):
            light = _mixed(light, (0.62, 0.64, 0.66), min(max((t - self.fog_from) / 3.0, 0.0), 0.97))
        return light

    def _chunk(self, light, t, often):
        if self.chunk_left <= 0 and self.rng.random() < often / RATE:
            self.chunk_left = self.rng.randint(1, 3)
            self.chunk = varied(self.rng, self.rng.choice((TRUB, CREAM)), 0.2), self.rng.uniform(0.3, 0.9)
        if self.chunk_left > 0:
            self.chunk_left -= 1
            return _mixed(light, *self.chunk)
        return light


class _Camera:
    """Lamp, exposure, white balance, hands, and what a file keeps."""

    def __init__(self, rng, faults, made):
        self.rng, self.faults, self.made = rng, faults, made
        self.lamp = [rng.uniform(0.55, 0.85) * c for c in (1.0, rng.uniform(0.9, 1.0), rng.uniform(0.75, 1.05))]
        self.exposure, self.balance = 1.0, 0.0
        self.mains = rng.choice((100.0, 120.0))
        self.shutter = rng.choice((1 / 50, 1 / 60, 1 / 120, 1 / 250)) * rng.uniform(0.97, 1.03)
        self.shake, self.hunt = 0.0, rng.uniform(0.3, 1.2)
        self.noise = rng.uniform(0.002, 0.006)
        self.event = made.fill + rng.uniform(5.0, 12.0)  # when a lamp goes out, a phone is knocked
        self.lasts = rng.uniform(2.0, 6.0)
        self.knock = rng.uniform(0.2, 0.9), rng.uniform(0.6, 1.6)
        self.surround = varied(rng, EMPTY)

    def sample(self, t, light):
        rng, faults = self.rng, self.faults
        lamp = [c * self._flicker(t) * self._hunting(t) for c in self.lamp]
        if faults.get("balance"):
            self.balance += rng.gauss(0.0, 0.012)
            lamp = [lamp[0] * math.exp(self.balance), lamp[1], lamp[2] * math.exp(-1.3 * self.balance)]
        reference = WHITE
        if faults.get("shake"):
            self.shake = 0.7 * self.shake + rng.gauss(0.0, 0.06)
            light = _mixed(light, self.surround, min(abs(self.shake), 0.6))
            reference = _mixed(reference, self.surround, min(abs(rng.gauss(0.0, 0.04)), 0.4))
        during = self.event < t < self.event + self.lasts
        if faults.get("dark") and during:
            lamp = [0.004 * c for c in lamp]
        if faults.get("glare") and during:
            light = tuple(v * 0.1 + 1.25 for v in light)
        if faults.get("knocked") and t > self.event:
            light = _mixed(light, self.surround, self.knock[0])
            reference = tuple(v * self.knock[1] for v in self.surround)
        lost = faults.get("lost") and during or faults.get("bare")
        if faults.get("gaps") and rng.random() < 0.25:
            return None
        return {"t": round(max(t, 0.0), 3), "glass": self._kept(light, lamp),
                "reference": None if lost else self._kept(reference, lamp)}

    def _kept(self, light, lamp):
        seen = (v * c * math.exp(self.rng.gauss(0.0, self.noise)) for v, c in zip(light, lamp, strict=True))
        return [round(_encoded(v + self.rng.gauss(0.0, 0.0004)), 1) for v in seen]

    def _flicker(self, t):
        """A lamp on the mains: what a shutter lets through of 100 or 120 Hz, taken five times a second."""
        depth = self.faults.get("flicker", 0.0)
        x = math.pi * self.mains * self.shutter
        return 1.0 + depth * math.sin(x) / x * math.sin(2 * math.pi * self.mains * t * 1.003)

    def _hunting(self, t):
        """An exposure that swings around what it wants, and wants something else once the glass turns."""
        if not self.faults.get("hunting"):
            return 1.0
        since = t - (self.made.change if self.made.change else 15.0)
        swing = 0.35 * math.exp(-since / 2.0) * math.sin(2 * math.pi * self.hunt * since) if since > 0 else 0.0
        return math.exp(swing + 0.12 * math.sin(2 * math.pi * t / 7.0) - (0.3 if since > 0 else 0.0))


ORDINARY = {
    "trub to gold": ([TRUB], GOLD, {}),
    "trub to amber": ([TRUB], AMBER, {}),
    "trub, yeast, gold": ([TRUB, CREAM], GOLD, {}),
    "yeast to gold": ([CREAM], GOLD, {}),
    "yeast to amber": ([CREAM], AMBER, {}),
    "hops to gold": ([HOPS], GOLD, {}),
    "hops to hazy": ([HOPS], HAZY, {}),
    "yeast, hops, gold": ([CREAM, HOPS], GOLD, {}),
    "fruit to gold": ([FRUIT], GOLD, {}),
    "trub to dark": ([TRUB], DARK, {}),
    "yeast to dark": ([CREAM], DARK, {}),
}
DISTURBED = {
    "yeast to hazy": ([CREAM], HAZY, {}),
    "yeast to pale haze": ([CREAM], HAZE, {}),
    "slow clouds": ([TRUB], GOLD, {"clouds": 0.25}),
    "slow clouds in yeast": ([CREAM], GOLD, {"clouds": 0.2}),
    "drift": ([TRUB], GOLD, {"drift": 1.0}),
    "chunks": ([CREAM], GOLD, {"chunks": 0.8}),
    "chunks in hops": ([HOPS], HAZY, {"chunks": 0.8}),
    "foam": ([TRUB, CREAM], GOLD, {"foam": True}),
    "flicker": ([CREAM], GOLD, {"flicker": 0.5}),
    "hand shake": ([TRUB], GOLD, {"shake": True}),
    "exposure hunting": ([TRUB], GOLD, {"hunting": True}),
    "hunting in yeast": ([CREAM], HAZY, {"hunting": True}),
    "white balance": ([CREAM], GOLD, {"balance": True}),
    "frames dropped": ([TRUB], GOLD, {"gaps": True}),
    "slow front": ([CREAM], GOLD, {"width": 6.0}),
    "coarse solids": ([HOPS], GOLD, {"grain": 0.07}),
    "no reference": ([TRUB], GOLD, {"bare": True}),
}
UNSEEN = {
    "fog": ([TRUB], GOLD, {"fog": True}),
    "lamp goes out": ([TRUB], GOLD, {"dark": True}),
    "glare": ([TRUB], GOLD, {"glare": True}),
    "reference lost": ([TRUB], GOLD, {"lost": True}),
    "knocked": ([TRUB], GOLD, {"knocked": True}),
}
NEVER = {
    "never turns": ([TRUB], None, {}),
    "yeast that never turns": ([TRUB, CREAM], None, {}),
    "clouds that never turn": ([CREAM], None, {"clouds": 0.25}),
    "chunks that never turn": ([CREAM], None, {"chunks": 0.8}),
    "beer at once": ([GOLD], GOLD, {"at_once": True}),
}
KINDS = ORDINARY | DISTURBED | UNSEEN | NEVER
