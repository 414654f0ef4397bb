"""A JavaScript text with one number or one operator wrong: what a slip of the finger does to a twin."""

import re
from dataclasses import dataclass
from decimal import Decimal

# What stands for what. A number gets its last digit one higher.
SWAPS = {
    "+": "-", "-": "+", "*": "/", "/": "*", "**": "*", "+=": "-=", "-=": "+=",
    "<": "<=", "<=": "<", ">": ">=", ">=": ">", "===": "!==", "!==": "===", "&&": "||", "||": "&&",
    "min": "max", "max": "min",
}
# Skipped whole: comments, texts, templates, imports, and the step of a counting loop, which would have no end.
SKIPPED = re.compile(
    r"/\*.*?\*/|//[^\n]*|\"(?:\\.|[^\"\\\n])*\"|`(?:\\.|[^`\\])*`|^import [^;]*;|(?<=; )\w+ [+-]= 1(?=\) )",
    re.DOTALL | re.MULTILINE,
)
PATTERN = re.compile(r"/(?:\\.|\[(?:\\.|[^\]\n])*\]|[^/\\\n\[])+/[a-z]*")
TOKEN = re.compile(r"\d+(?:\.\d+)?(?:e[+-]?\d+)?|[A-Za-z_$][\w$]*|=>|\*\*|===|!==|[<>+\-*/&|?=]=|\+\+|--|&&|\|\||\S")
BEFORE_A_PATTERN = set("(,=:[!&|?{};")


@dataclass(frozen=True)
class Mutant:
    """One change: at ``start`` of the text ``old`` became ``new``, which gives ``text``."""

    start: int
    old: str
    new: str
    text: str

    @property
    def number(self):
        """The number of its line, from 1."""
        return self.text.count("\n", 0, self.start) + 1

    @property
    def line(self):
        """Its line as it reads now: what a mutant is known by."""
        return self.text.splitlines()[self.number - 1].strip()


def mutants(text):
    """Every Mutant of a JavaScript ``text``, in the order of their places.

    >>> [mutant.text for mutant in mutants("return x <= 9.81 ? -x : Math.min(x, 2);")]
    ['return x < 9.81 ? -x : Math.min(x, 2);', 'return x <= 9.82 ? -x : Math.min(x, 2);', \
'return x <= 9.81 ? +x : Math.min(x, 2);', 'return x <= 9.81 ? -x : Math.max(x, 2);', \
'return x <= 9.81 ? -x : Math.min(x, 3);']
    """
    return [
        Mutant(start, old, new, text[:start] + new + text[start + len(old):])
        for start, old in _tokens(text)
        for new in [one_digit_up(old) if old[0].isdigit() else SWAPS.get(old)]
        if new
    ]


def one_digit_up(number):
    """
    >>> one_digit_up("12.0408"), one_digit_up("0.9"), one_digit_up("1e-13"), one_digit_up("9")
    ('12.0409', '1.0', '2e-13', '10')
    """
    mantissa, e, power = number.partition("e")
    last = Decimal(1).scaleb(Decimal(mantissa).as_tuple().exponent)
    return f"{Decimal(mantissa) + last}{e}{power}"


def _tokens(text):
    """(place, token) of all that is code."""
    place, before = 0, ";"
    while place < len(text):
        if skipped := SKIPPED.match(text, place):
            place = skipped.end()
            continue
        if text[place] == "/" and before in BEFORE_A_PATTERN and (pattern := PATTERN.match(text, place)):
            place, before = pattern.end(), ")"
            continue
        if text[place].isspace():
            place += 1
            continue
        token = TOKEN.match(text, place)[0]
        yield place, token
        place, before = place + len(token), token
