"""One text for one JSON value, the same in every language: the JSON Canonicalization Scheme, RFC 8785.

Keys are sorted by their UTF-16 code units, nothing is spaced, numbers are written as ECMAScript writes them.
Beyond the standard, half a surrogate pair in a text, which the standard refuses, is written as its escape.
"""

import json
import math
import re
from hashlib import sha256

DEEPEST = 32  # lists and objects inside one another
LONE_SURROGATE = re.compile("[\ud800-\udfff]")
in_json = json.JSONEncoder(ensure_ascii=False).encode  # json.dumps would make an encoder for each text


class NotCanonical(Exception):
    """A value that has no such text: ``code`` is ``too-deep`` or ``not-finite``."""

    def __init__(self, code):
        super().__init__(code)
        self.code = code


def canonical(value, room=DEEPEST):
    """The text of ``value``, a JSON value; ``room`` is how many levels it may have.

    >>> canonical({"b": 1.0, "a": [1e21, 1e-7, -0.0, None, "é"]})
    '{"a":[1e+21,1e-7,0,null,"é"],"b":1}'
    """
    if isinstance(value, dict | list) and room == 0:
        raise NotCanonical("too-deep")
    if isinstance(value, dict):
        members = (f"{_text(key)}:{canonical(value[key], room - 1)}" for key in sorted(value, key=utf16))
        return "{" + ",".join(members) + "}"
    if isinstance(value, list):
        return "[" + ",".join(canonical(item, room - 1) for item in value) + "]"
    if isinstance(value, str):
        return _text(value)
    if value is None or isinstance(value, bool):
        return in_json(value)
    return number(float(value))


def digest(value):
    """The SHA-256 of the canonical text in UTF-8, in hex."""
    return sha256(canonical(value).encode()).hexdigest()


def utf16(text):
    """What JavaScript compares texts by.

    >>> sorted(["\\ue000", "😀"], key=utf16) == ["😀", "\\ue000"]
    True
    """
    return text.encode("utf-16-be", "surrogatepass")


def number(value):
    """A float as ECMAScript's Number::toString writes it (ECMA-262, 6.1.6.1.20).

    >>> number(0.1 + 0.2), number(1e20), number(1.5e-7), number(123456.0)
    ('0.30000000000000004', '100000000000000000000', '1.5e-7', '123456')
    """
    if not math.isfinite(value):
        raise NotCanonical("not-finite")
    if value == 0.0:
        return "0"
    mantissa, _, power = repr(abs(value)).partition("e")
    whole, _, fraction = mantissa.partition(".")
    sign = "-" if value < 0.0 else ""
    return sign + (_placed(whole + fraction, 1 + int(power)) if power else mantissa.removesuffix(".0"))


def _placed(digits, point):
    """``digits`` with the decimal point after the first ``point`` of them."""
    if len(digits) <= point <= 21:
        return digits.ljust(point, "0")
    if 0 < point <= 21:
        return f"{digits[:point]}.{digits[point:]}"
    if -6 < point <= 0:
        return "0." + "0" * -point + digits
    mantissa = digits[0] + ("." + digits[1:] if digits[1:] else "")
    return f"{mantissa}e{point - 1:+d}"


def _text(text):
    written = in_json(text)
    return written if text.isascii() else LONE_SURROGATE.sub(lambda half: f"\\u{ord(half[0]):04x}", written)


RANGES = {
    "canonical": ["json", (1, 5, 32)],
    "digest": ["json"],
}
