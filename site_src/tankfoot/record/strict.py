"""Marshmallow fields that take JSON as it is: no text for a number, no 1 for true, unknown keys kept.

A field's limits are keywords of JSON Schema (draft 2020-12, validation vocabulary), so that the schema for
others is the fields themselves, written down. A refused value is told one thing: what it must be, as a code and facts;
the words are in ``wording/en/files.toml``.
"""

import math
import re
from datetime import datetime

from marshmallow import INCLUDE, Schema, ValidationError, fields


def _is_number(value):
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _is_instant(value):
    try:
        datetime.strptime(value, "%Y-%m-%dT%H:%M:%S.%fZ")
    except ValueError:
        return False
    return True


TYPES = {
    "string": lambda value: isinstance(value, str),
    "number": _is_number,
    "integer": lambda value: _is_number(value) and value == int(value),
    "boolean": lambda value: isinstance(value, bool),
    "array": lambda value: isinstance(value, list),
    "object": lambda value: isinstance(value, dict),
    "null": lambda value: value is None,
}


def _ending(pattern):
    r"""ECMAScript's ``$`` is Python's ``\Z``: a line break at the end is not overlooked."""
    return pattern.removesuffix("$") + r"\Z" if pattern.endswith("$") else pattern


FORMATS = {"date-time": _is_instant}

# What each keyword asks of a value of its type; values of other types are the keyword "type"'s business.
KEYWORDS = {
    "enum": (object, lambda value, allowed: value in allowed),
    "minimum": (int | float, lambda value, low: value >= low),
    "exclusiveMinimum": (int | float, lambda value, low: value > low),
    "maximum": (int | float, lambda value, high: value <= high),
    "minLength": (str, lambda value, least: len(value) >= least),
    "maxLength": (str, lambda value, most: len(value) <= most),
    "pattern": (str, lambda value, pattern: re.search(_ending(pattern), value) is not None),
    "format": (str, lambda value, name: FORMATS[name](value)),
    "minItems": (list, lambda value, least: len(value) >= least),
    "maxItems": (list, lambda value, most: len(value) <= most),
}

OBJECT = {"what": "object"}


def _messages(must):
    """What marshmallow tells of a value: (code, facts) in a list, since it would take a tuple alone for several."""
    return {"required": [("missing", must)], "null": [("must-be", must)], "invalid": [("must-be", must)]}


class Value(fields.Field):
    """A JSON value. ``what`` it must be is a code, with ``facts``; ``keywords`` are JSON Schema's, with ``type``."""

    def __init__(self, what, facts=None, *, required=True, **keywords):
        self.types = keywords["type"] if isinstance(keywords["type"], list) else [keywords["type"]]
        must = {"what": what, **(facts or {}), **({"null": True} if "null" in self.types else {})}
        self.keywords = {"what": must, **keywords}
        super().__init__(required=required, allow_none="null" in self.types, error_messages=_messages(must))

    def described(self):
        """This field as JSON Schema."""
        return self.keywords

    def _deserialize(self, value, attr, data, **kwargs):
        if not any(TYPES[name](value) for name in self.types) or not all(self._holds(value)):
            raise self.make_error("invalid")
        return self._inside(value)

    def _holds(self, value):
        for name, limit in self.keywords.items():
            kind, holds = KEYWORDS.get(name, (None, None))
            if kind and isinstance(value, kind):
                yield holds(value, limit)

    def _inside(self, value):
        return value


def _check_each(items):
    """Checks ``items``: the step that leads to an item, what it must be, and the item itself."""
    wrong = {}
    for step, inner, item in items:
        try:
            inner.deserialize(item)
        except ValidationError as refused:
            wrong[step] = refused.messages
    if wrong:
        raise ValidationError(wrong)


class Inside(Value):
    """A value with values of its own inside, each of them what ``inner`` says."""

    def __init__(self, what, inner, facts=None, **keywords):
        super().__init__(what, facts, **keywords)
        self.inner = inner

    def _each(self, items):
        """Checks ``items``, pairs of the step that leads to an item and the item itself."""
        _check_each((step, self.inner, item) for step, item in items)


class Many(Inside):
    """A list."""

    def __init__(self, what, inner, facts=None, *, null=False, **keywords):
        super().__init__(what, inner, facts, type=["array", "null"] if null else "array", **keywords)

    def described(self):
        return self.keywords | {"items": self.inner.described()}

    def _inside(self, value):
        self._each((f"[{place}]", item) for place, item in enumerate(value))
        return value


class Row(Value):
    """A list with one value of each of a few fields, in their order."""

    def __init__(self, what, *inner):
        super().__init__(what, type="array", minItems=len(inner), maxItems=len(inner))
        self.inner = inner

    def described(self):
        return self.keywords | {"prefixItems": [field.described() for field in self.inner]}

    def _inside(self, value):
        pairs = zip(self.inner, value, strict=True)
        _check_each((f"[{place}]", inner, item) for place, (inner, item) in enumerate(pairs))
        return value


class Named(Inside):
    """An object whose keys are names that nobody has fixed."""

    def __init__(self, what, inner, **keywords):
        super().__init__(what, inner, type="object", **keywords)

    def described(self):
        return self.keywords | {"additionalProperties": self.inner.described()}

    def _inside(self, value):
        self._each((f".{key}", item) for key, item in value.items())
        return value


class Shape(Schema):
    """An object with known keys; keys it does not know are kept as they are."""

    class Meta:
        unknown = INCLUDE

    error_messages = {"type": ("must-be", OBJECT)}

    def described(self):
        """This shape as JSON Schema."""
        return {
            "what": OBJECT,
            "type": "object",
            "required": [name for name, field in self.fields.items() if field.required],
            "properties": {name: field.described() for name, field in self.fields.items()},
        }


class One(fields.Nested):
    """An object of a shape."""

    def __init__(self, shape, *, required=True):
        super().__init__(shape, required=required, error_messages=_messages(OBJECT))

    def described(self):
        return self.schema.described()
