"""Generated sums: what people may type into a calculator, good and bad, from its declared fields alone."""

import math
import random
from dataclasses import dataclass

from tankfoot.quantities.text import read_quantity
from tankfoot.quantities.units import KINDS, SYSTEMS, units

SEED = 20261125

# Texts that go wrong, or nearly, whatever the field asks for.
ODD_TEXTS = (
    "", " ", "\u00a0\u202f", "\n", "12\n", "12 ps\ni", "12 \u2028", "abc", "psi", "1.2.3", "1,2,3",
    "--5", "+-5", "+5", "-", ".", "1,234", "12,345", "0,700", "1,5", "1,000 L", "1e", "1e5", "1E-2", "1e999",
    "-1e999", "1e-400", "1e308", "nan", "NaN L", "inf",
    "-Infinity", "∞", "−∞", "ınf", "0x10", "1_000", "１２", "١٢", "1 234", "1'234", "1/2", "12 3",
    "5 parsec", "5 kg", "5 psi", "5 bar", "5 °C", "5 C", "5 °", "5 L", "5 m",
    "5 %", "5%", "5 times", "5 dimensionless", "5 $", "$5", "5 min", "5 ps i", "5 PSI", "5 ＰＳＩ",
    "5 \u212a",
    "5 degc", "5 beer_barrel", "5 m^3", '5 "', "5 constructor", "5 __proto__",
    "10 ±", "± 5", "10 ± -1", "10 ± −1", "10 ± 5 ± 2", "10 ± 5 %", "10 ±5%", "10 +/- 0.5", "10 +/- 0,5 psi",
    "10 ± nan", "10 ± 1e999", "10 ± 1,234", "10 ± 1 parsec", "10 ± 1 psi", "10 ± 1 L", "10 L ± 1 psi",
    "10 ± 0",
    "10 % ± 1 %", "−5", "–5", "－5", "﹣5", "-0", "0", ".5", ",5", "5.", "5,", "007", "5 😀",
)
LENGTHS = ("7" * 64, "7" * 65, "0." + "3" * 62, "0." + "3" * 63, "😀" * 33, "😀" * 65, " " * 60 + "12345")
UNKNOWN_FIELDS = ("no_such_field", "constructor", "__proto__", "Headspace")
SPACES = ("", " ", " ", "\u00a0", "\u202f", "  ")
MINUS_SIGNS = ("-", "-", "\u2212", "\u2013")


@dataclass(frozen=True)
class Case:
    """What is typed into one sum: {field: text}, and the system of units."""

    texts: dict[str, str]
    system: str


def cases(calculator, count):
    """``count`` cases of a ``calculator``, the same ones every time."""
    rng = random.Random(f"{SEED} {calculator.id}")
    return [a_case(rng, calculator) for _ in range(count)]


def a_case(rng, calculator):
    """One case of a ``calculator``, drawn by ``rng``."""
    system = rng.choice(list(SYSTEMS))
    like_the_page = rng.random() < 0.5
    draw = _like_the_example if like_the_page else _anywhere
    texts = {
        name: _ordinary(rng, quantity, system, draw)
        for name, quantity in calculator.fields.items()
        if rng.random() >= _share_left_empty(quantity, system, like_the_page)
    }
    (_change,) = rng.choices(list(CHANGES), weights=CHANGES.values())
    _change(rng, calculator, texts)
    return Case(texts, system)


def _share_left_empty(quantity, system, like_the_page):
    if not quantity.optional and quantity.defaults[system] is None:
        return 0.01
    if like_the_page:
        return 0.05 if quantity.examples[system] else 0.95
    return 0.4


def _ordinary(rng, quantity, system, draw):
    value, unit = draw(rng, quantity, system)
    text = _typed(rng, value)
    named = unit.symbol != quantity.bare_unit(system) or rng.random() < 0.5
    if named:
        text += rng.choice(SPACES) + rng.choice((unit.symbol, unit.symbol, *unit.aliases))
    if rng.random() < 0.3:
        text += f" {rng.choice(('±', '+/-'))} {_spread(rng, value)}"
    return text


def _anywhere(rng, quantity, system):
    """A value within the limits, in any unit that somebody is offered."""
    unit = units()[rng.choice(sorted(_offered_anywhere(quantity.kind)))]
    return (_within(rng, quantity.low, quantity.high) - unit.offset) / unit.factor, unit


def _like_the_example(rng, quantity, system):
    """A value near the page's example: inputs that go together."""
    if quantity.examples[system] is None:
        return _anywhere(rng, quantity, system)
    reading = read_quantity(quantity.examples[system], quantity.kind, quantity.bare_unit(system))
    return reading.value * 2.0 ** rng.uniform(-0.5, 0.5), units()[reading.unit]


def _offered_anywhere(kind):
    return {symbol for symbols in KINDS[kind].values() for symbol in symbols}


def _within(rng, low, high):
    spread_over_decades = low >= 0.0 and high > 100.0 * low
    if spread_over_decades and rng.random() < 0.5:
        return math.exp(rng.uniform(math.log(max(low, high * 1e-5)), math.log(high)))
    return rng.uniform(low, high)


def _typed(rng, value):
    text = f"{value:.{rng.choice((1, 2, 2, 3, 3, 3, 4, 5, 6, 12, 17))}g}"
    if rng.random() < 0.15:
        text = text.replace(".", ",")
    return text.replace("-", rng.choice(MINUS_SIGNS), 1) if text.startswith("-") else text


def _spread(rng, value):
    if rng.random() < 0.3:
        return f"{rng.choice((0, 0.1, 1, 2.5, 5, 50, 300))} %"
    return f"{abs(value) * 10.0 ** rng.uniform(-6.0, 0.5):.{rng.choice((1, 2, 3))}g}"


def _nothing(rng, calculator, texts):
    """The case stays as it is."""


def _odd_text(rng, calculator, texts):
    texts[_any_field(rng, calculator)] = rng.choice(ODD_TEXTS)


def _at_the_longest(rng, calculator, texts):
    texts[_any_field(rng, calculator)] = rng.choice(LENGTHS)


def _unknown_field(rng, calculator, texts):
    texts[rng.choice(UNKNOWN_FIELDS)] = "5"


def _corner(rng, calculator, texts):
    """Every field on one of its limits, or one float beside it."""
    for name, quantity in calculator.fields.items():
        texts[name] = _on_limit(quantity, rng.choice(("low", "high")), rng.choice((0, 0, 0, 1, -1)))


def _one_on_limit(rng, calculator, texts):
    name = _any_field(rng, calculator)
    texts[name] = _on_limit(calculator.fields[name], rng.choice(("low", "high")), rng.choice((0, 1, -1)))


def _far_outside(rng, calculator, texts):
    name = _any_field(rng, calculator)
    quantity = calculator.fields[name]
    unit = units()[rng.choice(sorted(_offered_anywhere(quantity.kind)))]
    reach = quantity.high - quantity.low
    si = rng.choice((quantity.low - reach * rng.random(), quantity.high + reach * rng.random()))
    texts[name] = f"{(si - unit.offset) / unit.factor:.6g} {unit.symbol}"


def _same_text_twice(rng, calculator, texts):
    """Two fields of one kind say the same: the border of most refusals."""
    twins = [
        (one, other)
        for one in calculator.fields
        for other in calculator.fields
        if one != other and calculator.fields[one].kind == calculator.fields[other].kind and one in texts
    ]
    if twins:
        one, other = rng.choice(twins)
        texts[other] = texts[one]


CHANGES = {
    _nothing: 61, _odd_text: 14, _at_the_longest: 1, _unknown_field: 1, _corner: 7, _one_on_limit: 8,
    _far_outside: 3, _same_text_twice: 5,
}


def _any_field(rng, calculator):
    return rng.choice(list(calculator.fields))


def _on_limit(quantity, end, floats_beyond):
    """The text that reads as a limit exactly, or as the float next below (-1) or above (+1)."""
    unit = units()[quantity.bare_unit("us")]
    si = getattr(quantity, end)
    value = (si - unit.offset) / unit.factor
    near = [math.nextafter(value, -math.inf), value, math.nextafter(value, math.inf)]
    exact = next((v for v in near if v * unit.factor + unit.offset == si), value)
    if floats_beyond:
        exact = math.nextafter(exact, floats_beyond * math.inf)
    return f"{exact!r} {unit.symbol}"
