"""What a member of an entry may be: each a value of the JSON Schema, with the words and facts that say so."""

from tankfoot.record.canonical import number
from tankfoot.record.strict import Many, One, Value

UUID = "^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$"
INSTANT = "^(19|20)[0-9]{2}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\\.[0-9]{3}Z$"
NAME = "^[a-z0-9]+(-[a-z0-9]+)*$"


def _or_null(kind, null):
    return [kind, "null"] if null else kind


def text(longest, *, least=0, null=False, required=True):
    """A text of ``least`` to ``longest`` characters."""
    facts = {"least": str(least), "longest": str(longest)}
    return Value("text", facts, type=_or_null("string", null), minLength=least, maxLength=longest, required=required)


def patterned(what, pattern, facts=None, *, null=False, **keywords):
    """A text of one pattern."""
    return Value(what, facts, type=_or_null("string", null), pattern=pattern, **keywords)


def uuid(null=False):
    """An entry's id."""
    return patterned("uuid", UUID, null=null)


def instant(null=False):
    """An instant in UTC, as JavaScript's toISOString writes it."""
    return patterned("instant", INSTANT, null=null, format="date-time")


def name():
    """A name of something that the app knows, a checklist's id, say."""
    return patterned("name", NAME, maxLength=60)


def language():
    """A language by its primary subtag, RFC 5646 (BCP 47), section 2.2.1: two or three letters; may be left out."""
    return patterned("language", "^[a-z]{2,3}$", required=False)


def hexadecimal(count):
    """So many hex digits."""
    return patterned("hex", f"^[0-9a-f]{{{count}}}$", {"count": str(count)})


def one_of(*words, null=False, **keywords):
    """One of a few texts."""
    what = "one-of" if len(words) > 1 else "one"
    facts = {"words": ", ".join(words)}
    return Value(what, facts, type=_or_null("string", null), enum=[*words, *[None] * null], **keywords)


def flag(*, null=False, required=True):
    """True or false."""
    return Value("flag", type=_or_null("boolean", null), required=required)


def quantity(unit, low, high, *, above=False, null=False, high_text=None):
    """A number in SI from ``low`` (``above`` it) to ``high``."""
    facts = {"unit": unit, "low": number(float(low)), "high": high_text or number(float(high))}
    lowest = {"exclusiveMinimum" if above else "minimum": low}
    what = "number-above" if above else "number-from"
    return Value(what, facts, type=_or_null("number", null), maximum=high, **lowest)


def many(what, shape, most, least=0):
    """A list of ``least`` to ``most`` objects of a shape."""
    fewest = {"minItems": least} if least else {}
    return Many(what, One(shape), {"least": str(least), "most": str(most)}, **fewest, maxItems=most)


def anything():
    """An object of which nothing is asked."""
    return Value("object", type="object")
