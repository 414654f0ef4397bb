"""What a range of a twin's arguments may name: things drawn at random that are no plain numbers."""

import math
from dataclasses import asdict, replace

import drawn_batches
import drawn_gauges
import drawn_meaning
import drawn_pictures
import drawn_purges
import drawn_records
import drawn_rehearsal
import drawn_report
import drawn_tanks
import drawn_usual
import drawn_watch
from both import Both
from cases import LENGTHS, ODD_TEXTS, a_case
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import Outcome, reckon
from tankfoot.physics.purging import OXYGEN_IN_AIR
from tankfoot.physics.room import Release
from tankfoot.physics.vessel import cone_volume, straight_volume
from tankfoot.quantities.propagate import within_reach
from tankfoot.quantities.units import KINDS, SYSTEMS, offered, symbols_by_name, units

PIECES = (3, 3, 4, 6, 9)
EASY_ROOTS = ("x - 1.0", "0.1 * x", "x * x - 2.0", "x * x * x - x - 5.0", "2.0 - 0.3 * x", "0.7 - 1.0 / (1.0 + x)")
SUMS = (
    '{"y": x["a"] * x["b"]}', '{"y": x["a"] / x["b"], "z": x["a"]}', '{"y": sqrt(x["a"]), "z": null}',
    '{"y": sqrt(x["b"]) * x["a"] + x["b"], "z": 3.0 - x["b"]}', '{"y": x["a"] * x["a"] * x["b"] * x["b"]}',
    '{"y": sqrt(1.0 - x["b"]) * x["a"]}',
)
SCRAPS = ("5", "12", ".", ",", "-", "−", "+", "e", "E", " ", "\u00a0", "±", "+/-", "%", "psi", "nan")
SHOWN_AT_MOST = 1e290  # a unit's factor must not make it infinite


def formula(text):
    """A function of ``x`` in the grammar that both languages share; it notes what it is asked."""
    def for_python(told):
        def function(x):
            told.append(list(x.values()) if isinstance(x, dict) else x)
            return worked_out(x)

        return function

    worked_out = eval(f"lambda x: {text}", {"sqrt": math.sqrt, "null": None})
    return Both(for_python, {"$formula": text})


def table(rng):
    """Points that rise across, and go up, down or nowhere."""
    xs = [rng.uniform(-5.0, 5.0)]
    for _ in range(rng.choice(PIECES) - 1):
        xs.append(xs[-1] + rng.choice((1.0, rng.uniform(0.01, 4.0))))
    ys = [rng.choice((0.0, 1.0, -1.0, rng.uniform(-9.0, 9.0), rng.uniform(-9.0, 9.0))) for _ in xs]
    return xs, sorted(ys) if rng.random() < 0.3 else ys


def place_in_a_table(rng):
    xs, ys = table(rng)
    slopes = [rng.uniform(-3.0, 3.0) for _ in xs]
    return [xs, ys, slopes, rng.choice((rng.choice(xs), rng.uniform(xs[0], xs[-1])))]


def bracket(rng):
    """A function and two ends: mostly a root between them, at times one at an end, or none."""
    if rng.random() < 0.3:
        text = rng.choice(EASY_ROOTS)
    else:
        a, b, c = (rng.choice((0.0, 1.0, rng.uniform(-4.0, 4.0))) for _ in range(3))
        text = rng.choice((
            f"x * x * x + {a!r} * x * x + {b!r} * x + {c!r}", f"{a!r} - {b!r} / (x * x + 0.1)",
            f"x * (1.0 + {abs(a)!r} * x * x * x * x) - {abs(b)!r}", f"(x - {a!r}) * (x - {a!r}) * (x - {a!r})",
        ))
    low, high = rng.choice((0.0, 1.0, rng.uniform(-3.0, 0.0))), rng.choice((1.0, 2.0, rng.uniform(0.5, 30.0)))
    return [formula(text), low, high]


def measured_twice_or_more(rng):
    """Values with their ±, some of them twice the combined ± apart to the bit: (3, 4) makes 5."""
    if rng.random() < 0.2:
        return [[1.0, 11.0, 1.0], [3.0, 4.0, 3.0]]
    count = rng.randint(1, 4)
    spread = rng.choice((0.5, 3.0, 20.0))
    return [[5.0 + rng.uniform(-spread, spread) for _ in range(count)], [rng.uniform(0.01, 3.0) for _ in range(count)]]


def level_in_a_tank(rng):
    """A level anywhere in a tank, or where one part of it meets the next; now and then with no word of its head."""
    diameter, cone, straight = rng.uniform(0.3, 6.0), rng.uniform(0.1, 5.0), rng.uniform(0.2, 6.0)
    depth = rng.choice((0.0, 0.5 * diameter, rng.uniform(0.0, 0.5 * diameter)))
    side = cone + straight
    borders = (0.0, cone, side, side + depth, side + 0.05)
    between = (rng.uniform(0.0, cone), rng.uniform(cone, side), rng.uniform(side, side + 1.2 * depth))
    level = rng.choice(borders + between)
    return [level, diameter, cone, straight, depth][: rng.choice((4, 5, 5))]


def volume_in_a_tank(rng):
    """A volume in a tank, up to a border between two of its parts, or no volume that it can hold there."""
    _, diameter, cone, straight, *_ = level_in_a_tank(rng)
    full = straight_volume(diameter, cone, straight)
    borders = (0.0, cone_volume(diameter, cone), full, -0.001, 1.001 * full)
    return [rng.choice((*borders, rng.uniform(0.0, full), rng.uniform(0.0, 0.1 * full))), diameter, cone, straight]


def pops(rng):
    """Pops of a hose or a tank: now and then the share wanted is reached to the bit, or by the last pop allowed."""
    exact = [OXYGEN_IN_AIR / 2.0, 0.0, 1e5, 1.1e5, 2e5]
    last = [0.0142, 0.0, 1e5, 1.98e5, 2e5]  # 0.2095 / 2 x 0.99^199 is 0.01418
    any_other = [
        10.0 ** rng.uniform(-6.0, -0.6), rng.choice((0.0, 0.001)), rng.uniform(8e4, 1.1e5), rng.uniform(8e4, 2e5),
        rng.uniform(1.5e5, 4e5),
    ]
    return rng.choice((exact, last, *[any_other] * 10))


def release(rng):
    """CO2 let out into a room: at once, over minutes, over hours."""
    duration = rng.choice((0.0, 0.05, 600.0, rng.uniform(1.0, 40000.0), rng.uniform(1.0, 40000.0)))
    made = Release(rng.choice((0.0004, rng.uniform(0.0, 0.002))), 10.0 ** rng.uniform(-4.0, 0.0), duration,
                   10.0 ** rng.uniform(-5.0, -2.5))
    return Both(lambda told: made, asdict(made))


def while_it_lasts(rng):
    made = release(rng)
    while made.json["duration"] == 0.0:
        made = release(rng)
    return [made, rng.choice((0.0, made.json["duration"], rng.uniform(0.0, made.json["duration"])))]


def past_its_end(rng):
    made = release(rng)
    duration = made.json["duration"]
    start = rng.choice((0.0, duration, 2.0 * duration, rng.uniform(0.0, duration)))
    return [made, start, max(duration - start, 0.0) + rng.choice((600.0, rng.uniform(60.0, 30000.0)))]


def number(rng):
    """Any float: over many decades, short, a tie in its last digit, just under a power of ten, the ends."""
    return rng.choice((1.0, -1.0)) * rng.choice((
        rng.random() * 10.0 ** rng.randint(-12, 15),
        float(f"{rng.uniform(0.0, 1000.0):.{rng.randint(1, 6)}g}"),
        rng.randrange(1, 2000, 2) / 2.0 ** rng.randint(0, 7),
        10.0 ** rng.randint(-9, 12) * (1.0 - 10.0 ** -rng.choice((4, 13))),
        float(f"{rng.randint(1, 99999)}e{rng.randint(-9, 12)}"),
        rng.choice((0.0, 5e-324, 1.7976931348623157e308, 1e-7, 9.995e-7, 9.9949999999e-7, 1e9, 999499999.9)),
    ))


def number_and_doubt(rng):
    value = number(rng)
    doubt = abs(rng.choice((value * 10.0 ** rng.uniform(-7.0, 3.0), number(rng), value)))
    return [value, doubt if doubt < math.inf else 0.0]


def result(rng):
    """A value in SI, its ± or none, and a unit; whole counts and round sums of money among them."""
    value, doubt = number_and_doubt(rng)
    while abs(value) > SHOWN_AT_MOST or doubt > SHOWN_AT_MOST:
        value, doubt = number_and_doubt(rng)
    if rng.random() < 0.3:
        value = float(rng.choice((rng.randint(0, 30), rng.randint(0, 10**12), value)))
        return [value, None, rng.choice(("times", "$"))]
    return [value, rng.choice((None, 0.0, doubt)), rng.choice(list(units()))]


def typed_quantity(rng):
    """What somebody may type, right and wrong, for a kind of quantity; bare numbers are in a unit of it."""
    kind = rng.choice(("temperature", *[rng.choice(list(KINDS))] * 4))
    own = units()[rng.choice([symbol for offer in KINDS[kind].values() for symbol in offer])]
    unit = rng.choice(("", own.symbol, *own.aliases, rng.choice(list(symbols_by_name()))))
    number = rng.choice((f"{rng.uniform(-99.0, 99.0):.3g}", f"{rng.randint(0, 9999)}", "1e308", "1,250", "0,125"))
    spread = rng.choice((f"{rng.uniform(-1.0, 9.0):.2f}", "0", "1e308", "nan", "5"))
    text = rng.choice((
        rng.choice(ODD_TEXTS), rng.choice(LENGTHS), "".join(rng.choices(SCRAPS, k=rng.randint(1, 5))),
        f"{number} {unit}",
        f"{number}\u00a0{unit} ± {spread}", f"{number} ± {spread} {rng.choice((unit, own.symbol))}",
        f"{number} {unit} ± {spread} {rng.choice(('%', own.symbol))}",
    ))
    return [text, kind, rng.choice(KINDS[kind][rng.choice(list(SYSTEMS))])]


def formula_and_inputs(rng):
    numbers = (0.0, 1.0, -2.0, rng.uniform(-5.0, 5.0), rng.uniform(0.0, 1e-3), 1e200)
    return [formula(rng.choice(SUMS)), {name: rng.choice(numbers) for name in "ab"}]


def formula_and_doubts(rng):
    """A ± for some of the inputs, too small for its own step or large enough to leave the formula's reach."""
    made, inputs = formula_and_inputs(rng)
    while within_reach(made.for_python([]), inputs) is None:
        made, inputs = formula_and_inputs(rng)
    doubts = {name: abs(rng.choice((0.0, 1e-9, 0.1, value, 20.0 * value))) for name, value in inputs.items()}
    return [made, inputs, {name: doubts[name] for name in rng.choice(("ab", "a", "b", "ba", ""))}]


def sum_with_a_curve(rng):
    """What the figure of a sum is made of: the plot and the module that declare it, inputs, results, units."""
    calculator = calculators()[rng.choice([id for id, one in calculators().items() if hasattr(one.module, "PLOT")])]
    outcome = Outcome(problems=[("", "")])
    while outcome.problems:
        case = a_case(rng, calculator)
        outcome = reckon(calculator, case.texts, case.system)
    inputs = {name: reading and reading.si for name, reading in outcome.inputs.items()}
    results = {name: found and found.value for name, found in outcome.results.items()}
    plot = _marked(rng, calculator.module.PLOT, inputs | results)
    kinds = {
        axis: calculator.results.get(name) or calculator.fields[name].kind
        for axis, name in (("across", plot.across), ("up", plot.up))
    }
    path = f"calculators/{calculator.id.replace('-', '_')}.js"
    return [
        Both(lambda told: plot, asdict(plot)),
        Both(lambda told: calculator.module, {"$module": path}),
        inputs,
        results,
        {axis: offered(kind, case.system)[0] for axis, kind in kinds.items()},
    ]


def _marked(rng, plot, known):
    """The ``plot``, often with lines besides, all over the drawing and past its ends; now and then with no width."""
    if rng.random() < 0.1:
        return replace(plot, to=dict.fromkeys(plot.to, 0.0), at_least=0.0)
    across, up = ((known[name] or 0.0) * rng.uniform(0.0, 2.0) for name in (plot.across, plot.up))
    more = (("even", "even", None), ("x", "across", across), ("y", "up", up))
    return replace(plot, marks=plot.marks + more[: rng.choice((0, 3, 3))])


def drawn_curve(rng):
    """What a figure says, the words that say it, and those of dashed lines."""
    marks = rng.sample(("rated", "floor", "even"), rng.randint(0, 3))
    says = {"x": "3 bbl", "y": "−5 psi", "x0": "0 bbl"}
    words = {"says": rng.choice(("From {x0} to {x}: {y}", "{y}")), "marks": {name: f"line {name}" for name in marks}}
    return [{"says": says, "marks": [{"name": name} for name in marks]}, words, "Dashed: {marks}."]


DRAWN = drawn_records.DRAWN | drawn_purges.DRAWN | drawn_tanks.DRAWN | drawn_meaning.DRAWN | drawn_batches.DRAWN
DRAWN |= drawn_report.DRAWN | drawn_gauges.DRAWN | drawn_usual.DRAWN | drawn_pictures.DRAWN | drawn_watch.DRAWN
DRAWN |= drawn_rehearsal.DRAWN | {
    "float": number,
    "release": release,
    "unit": lambda rng: rng.choice(list(units())),
}
ARGUMENTS = drawn_records.ARGUMENTS | drawn_purges.ARGUMENTS | drawn_tanks.ARGUMENTS | drawn_batches.ARGUMENTS
ARGUMENTS |= drawn_report.ARGUMENTS | drawn_usual.ARGUMENTS | drawn_pictures.ARGUMENTS | drawn_watch.ARGUMENTS
ARGUMENTS |= drawn_gauges.ARGUMENTS | drawn_rehearsal.ARGUMENTS | {
    "sum with a curve": sum_with_a_curve,
    "drawn curve": drawn_curve,
    "float and its ±": number_and_doubt,
    "result": result,
    "typed quantity": typed_quantity,
    "formula and inputs": formula_and_inputs,
    "formula, inputs and their ±": formula_and_doubts,
    "release and a time while it lasts": while_it_lasts,
    "release and a window past its end": past_its_end,
    "table": lambda rng: list(table(rng)),
    "place in a table": place_in_a_table,
    "bracket": bracket,
    "pops": pops,
    "level in a tank": level_in_a_tank,
    "volume in a tank": volume_in_a_tank,
    "measured twice or more": measured_twice_or_more,
}
