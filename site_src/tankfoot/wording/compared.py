"""What a language says beside what the first one says: each text of a file by the keys that lead to it."""

from string import Formatter

PLURALS = {"zero", "one", "two", "few", "many", "other"}  # source: Unicode CLDR, plural categories
NAMES = ("id", "name")  # what a table in a list is called, where it has one of these


def counts(table):
    """Whether a table has the forms of a plural in the place of one text."""
    return "other" in table and table.keys() <= PLURALS


def texts(data, no_words=(), place=""):
    """(The place, the text) of all texts in ``data``, such as "fields.volume.label"; forms of a plural are one text.

    ``no_words``: keys of what is the same in all languages.

    >>> list(texts({"a": "one", "b": {"other": "{count}"}, "d": ["x", "y"], "e": [{"id": "f", "act": "z"}]}, {"id"}))
    [('a', 'one'), ('b', '{count}'), ('d.1', 'x'), ('d.2', 'y'), ('e.f.act', 'z')]
    """
    if isinstance(data, dict) and counts(data):
        yield place, " | ".join(data.values())
    elif isinstance(data, dict):
        for key, inner in data.items():
            if key not in no_words:
                yield from texts(inner, no_words, f"{place}.{key}".lstrip("."))
    elif isinstance(data, list):
        for number, item in enumerate(data, 1):
            yield from texts(item, no_words, f"{place}.{_name(item, number)}")
    elif isinstance(data, str | int) and not isinstance(data, bool):
        yield place, str(data)


def _name(item, number):
    return next((item[name] for name in NAMES if name in item), number) if isinstance(item, dict) else number


def places(text):
    """The places in braces that a text has.

    >>> sorted(places("{count} of {most} | {count}"))
    ['count', 'most']
    """
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}
