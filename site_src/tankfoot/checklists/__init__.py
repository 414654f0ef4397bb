"""The safety content as data, validated on load: checklists, emergency cards, emergency numbers.

What has words is in a folder a language: a list is a file in its ``lists``, a card a file in its ``cards``; the
name without ending is its id. ``schema`` says what it may hold. Adding one is adding a file. A list or card that a
language does not have stands there in English as a whole: words of two languages are never mixed in one.
"""

import json
import tomllib
from functools import cache
from hashlib import sha256
from importlib.resources import files

from marshmallow import ValidationError

from tankfoot.checklists.schema import CardShape, ChecklistShape, RegionsShape, texts_in
from tankfoot.wording.languages import FIRST, LANGUAGE, languages

HERE = files(__package__)


class ChecklistError(Exception):
    """Safety content that cannot be used: in which file, at which line id, what is wrong, what to do."""


@cache
def checklists(language=LANGUAGE):
    """{id: Checklist}, in the order of the work."""
    return _in_order(checklist(name, data, own) for name, data, own in _contents("lists", language))


@cache
def cards(language=LANGUAGE):
    """{id: Card}, what is likeliest to kill first."""
    return _in_order(card(name, data, own) for name, data, own in _contents("cards", language))


@cache
def versions(name):
    """The versions of one list in all languages: a run begun in one of them goes on in another."""
    return tuple(dict.fromkeys(checklists(language)[name].version for language in languages()))


@cache
def regions():
    """{name: Region}, as in regions.toml; the first one is for wherever no other fits."""
    return {region.name: region for region in _of_regions()["regions"]}


def standards(language=LANGUAGE):
    """{name: Standard}, as in regions.toml."""
    return _of_regions(language)["standards"]


@cache
def _of_regions(language=LANGUAGE):
    return shaped(RegionsShape(), "regions.toml", parsed(in_language("regions.toml", language)))


def checklist(name, data, language=LANGUAGE):
    """The Checklist of ``name`` from the parsed content of its file, or a ChecklistError."""
    with texts_in(language):
        return shaped(ChecklistShape(), f"lists/{name}.toml", _headed(name, data, language))


def card(name, data, language=LANGUAGE):
    """The Card of ``name`` from the parsed content of its file, or a ChecklistError."""
    with texts_in(language):
        return shaped(CardShape(), f"cards/{name}.toml", _headed(name, data, language))


def version(data):
    """The first 8 hex digits of the SHA-256 of ``data`` as JSON with sorted keys and no spaces, in UTF-8.

    >>> version({"title": "Cap", "order": 1}) == version({"order": 1, "title": "Cap"})
    True
    """
    canonical = json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False, default=str)
    return sha256(canonical.encode()).hexdigest()[:8]


def _headed(name, data, language):
    return data | {"id": name, "version": version(data), "language": language}


def _in_order(made):
    return {thing.id: thing for thing in sorted(made, key=lambda thing: (thing.order, thing.id))}


def _contents(folder, language):
    for path in sorted((HERE / FIRST / folder).iterdir(), key=lambda path: path.name):
        if path.name.endswith(".toml"):
            own = in_language(f"{folder}/{path.name}", language)
            yield path.name.removesuffix(".toml"), parsed(own), FIRST if own == path else language


def in_language(file, language=LANGUAGE):
    """The path of ``file`` in the folder of a language, or in the first one's where it has no such file."""
    own = HERE / language / file
    return own if own.is_file() else HERE / FIRST / file


def parsed(path):
    """The content of the TOML file at ``path``, or a ChecklistError."""
    try:
        return tomllib.loads(path.read_bytes().decode("utf-8"))
    except ValueError as wrong:
        raise ChecklistError(f"{path.name}: is not TOML in UTF-8 ({wrong}): correct it there.") from wrong


def shaped(shape, file, data):
    """What ``shape`` makes of ``data``, or a ChecklistError that names ``file`` and the places in it."""
    try:
        return shape.load(data)
    except ValidationError as refused:
        complaints = sorted(_complaints(refused.messages, data, ()))
        raise ChecklistError("\n".join(f"{file}{complaint}." for complaint in complaints)) from refused


def _complaints(messages, data, trail):
    """Sentences from marshmallow's nested messages, each with the trail of keys that leads to its place."""
    if isinstance(messages, list):
        yield from (f"{', '.join(('', *trail))}: {message}" for message in messages)
        return
    for key, inner in messages.items():
        inside = _inside(data, key)
        yield from _complaints(inner, inside, _step(trail, key, inside))


def _inside(data, key):
    try:
        return data[key]
    except (KeyError, IndexError, TypeError):
        return None


def _step(trail, key, inside):
    """The trail one key further; in a list the item stands for the list, by its id where it has one."""
    if key == "_schema":
        return trail
    if not isinstance(key, int):
        return (*trail, key)
    named = inside.get("id") if isinstance(inside, dict) else None
    return (*trail[:-1], f"{trail[-1].removesuffix('s')} {repr(named) if named else key + 1}")
