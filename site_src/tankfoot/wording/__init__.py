"""The words on the screen: a folder a language, a TOML file a screen or a calculator."""

import math
import tomllib
from functools import cache
from importlib.resources import files

from tankfoot.wording.compared import counts
from tankfoot.wording.languages import FIRST, LANGUAGE

MARK = " (en)"  # behind what a language does not say yet
OWN_RULE = "own-"  # how the name of a site's own rule begins; a record has it, and no word for it
IDS = {"group", "signal"}  # no words: which group of app.toml a sum belongs to, which signal word a caution has


@cache
def words(name, language=LANGUAGE):
    """All words of one file, by its ``name`` without ending: a calculator's id, or ``app``.

    What the language's own file does not say stands there in English, with a mark.
    """
    first = said(name, FIRST)
    return first if language == FIRST else laid_over(first, said(name, language))


@cache
def said(name, language):
    """What the file of one language itself says; nothing where it has no such file."""
    file = files(__package__) / language / f"{name}.toml"
    return tomllib.loads(file.read_text(encoding="utf-8")) if language == FIRST or file.is_file() else {}


def of_language(language):
    """What ``language.toml`` says of a language: its name in itself, its locale; the rest is as of the first one."""
    return said("language", FIRST) | said("language", language)


def laid_over(first, own):
    """The words of ``own`` in the places of ``first``; what it does not say is marked.

    >>> laid_over({"a": "one", "b": {"c": "two"}, "d": ["x", "y"]}, {"b": {"c": "dos"}, "d": ["z"]})
    {'a': 'one (en)', 'b': {'c': 'dos'}, 'd': ['x (en)', 'y (en)']}
    """
    if isinstance(first, dict):
        own = own if isinstance(own, dict) else {}
        if counts(first) and counts(own):
            return own  # a language has forms of its own
        return {key: inner if key in IDS else laid_over(inner, own.get(key)) for key, inner in first.items()}
    if isinstance(first, list):
        own = own if isinstance(own, list) and len(own) == len(first) else [None] * len(first)
        return [laid_over(one, other) for one, other in zip(first, own, strict=True)]
    if isinstance(own, type(first)):
        return own
    return first + MARK if isinstance(first, str) else first


def problem_sentence(calculator_id, field, problem):
    """The sentence for a refused input: what was wrong, what is allowed, what to do.

    A calculator's own refusal has its words in the calculator's file, all others in ``app``.
    """
    own = words(calculator_id)
    label = own["fields"].get(field, {}).get("label", field)
    template = own.get("refusals", {}).get(problem.code) or words("app")["problems"][problem.code]
    return template.format(label=label, **problem.facts)


def file_sentence(problem):
    """What is wrong with a file or an entry, behind its place: "count does not fit: ..."."""
    own = words("files")
    facts = {**problem.facts, "what": shape_words(problem.facts)} if "what" in problem.facts else problem.facts
    says = (own["problems"] | own["checked"])[problem.code].format(**facts)
    return f"{problem.where} {says}".strip()


def shape_words(must):
    """What a value ``must`` be.

    >>> shape_words({"what": "text", "least": "1", "longest": "40", "null": True})
    'a text of 1 to 40 characters or null'
    """
    own = words("files")
    what = own["shapes"][must["what"]].format(**must | {"unit": own["units"].get(must.get("unit"))})
    return own["shapes"]["or-null"].format(what=what) if must.get("null") else what


def due_title(item, rule):
    """What an ``item`` that is due asks for; ``rule``: the one that it is asked by, None where that is no more.

    >>> due_title({"rule": "hops"}, {"title": None}), due_title({"rule": "dump"}, None)
    ('Purge the hops', 'dump')
    >>> due_title({"rule": "own-0a1b2c3d"}, {"title": None})
    'A rule of our own'
    """
    own, name = words("due"), item["rule"]
    known = own["rules"].get(name)
    return (rule and rule["title"]) or (known or (own["unnamed"] if name.startswith(OWN_RULE) else name))


def due_sentence(item, shown_at):
    """Why an ``item`` is due, in one sentence; ``shown_at``: the instant that it counts from, as a person reads it.

    >>> due_sentence({"rule": "hops", "why": {"code": "dry-hopped", "days": 3.0}}, "2026-03-26 03:00")
    'Dry hops went in on 2026-03-26 03:00; this is due 3 days later.'
    """
    code, days, own = item["why"]["code"], item["why"]["days"], words("due")
    reason = own["own"].get(item["rule"], {}).get(code) or own["why"][code]
    return (own["at_once"][code] if days == 0.0 else reason).format(at=shown_at, days=_length(days))


def _length(days):
    forms, count = ("hours", days * 24.0) if days < 1.0 else ("days", days)
    tenths = math.floor(count * 10.0 + 0.5) / 10.0
    return plural(words("due")[forms], int(tenths) if tenths.is_integer() else tenths)


def plural(forms, count, language=LANGUAGE, **facts):
    """The form for ``count`` by the language's rule (Unicode CLDR), with it and what else it says.

    >>> plural({"one": "{count} tank", "other": "{count} tanks"}, 2, "en")
    '2 tanks'
    """
    from babel import Locale  # only where something is counted: a command starts sooner without it

    form = Locale.parse(of_language(language)["locale"], sep="-").plural_form(count)
    return forms.get(form, forms["other"]).format(count=count, **facts)


RANGES = {
    "file_sentence": ["problem of a file"],
    "shape_words": ["what a value must be"],
    "due_title": "item that is due and its rule",
    "due_sentence": ["item that is due", ["2026-03-26 03:00", "$& {days} é"]],
}
