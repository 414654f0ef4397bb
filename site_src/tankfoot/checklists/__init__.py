"""The safety content as data, validated on load: checklists, emergency cards, emergency numbers.

What has words is in a folder a language: a list is a file in its ``lists``, a card a file in its ``cards``; the
name without ending is its id. ``schema`` says what it may hold. Adding one is adding a file.
"""

import json
import tomllib
from functools import cache
from hashlib import sha256
from importlib.resources import files

from marshmallow import ValidationError

from tankfoot.checklists.schema import CardShape, ChecklistShape, RegionsShape
from tankfoot.wording import LANGUAGE

HERE = files(__package__)


class ChecklistError(Exception):
    """Safety content that cannot be used: in which file, at which line id, what is wrong, what to do."""


@cache
def checklists():
    """{id: Checklist}, in the order of the work."""
    return _in_order(checklist(name, data) for name, data in _contents("lists"))


@cache
def cards():
    """{id: Card}, what is likeliest to kill first."""
    return _in_order(card(name, data) for name, data in _contents("cards"))


@cache
def regions():
    """{name: Region}, as in regions.toml; the first one is for wherever no other fits."""
    return {region.name: region for region in _of_regions()["regions"]}


def standards():
    """{name: Standard}, as in regions.toml."""
    return _of_regions()["standards"]


@cache
def _of_regions():
    return shaped(RegionsShape(), "regions.toml", parsed(HERE / LANGUAGE / "regions.toml"))


def checklist(name, data):
    """The Checklist of ``name`` from the parsed content of its file, or a ChecklistError."""
    return shaped(ChecklistShape(), f"lists/{name}.toml", _headed(name, data))


def card(name, data):
    """The Card of ``name`` from the parsed content of its file, or a ChecklistError."""
    return shaped(CardShape(), f"cards/{name}.toml", _headed(name, data))


def version(data):
    """The first 8 hex digits of the SHA-256 of ``data`` as JSON with sorted keys and no spaces, in UTF-8.

    >>> version({"title": "Cap", "order": 1}) == version({"order": 1, "title": "Cap"})
    True
    """
    canonical = json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False, default=str)
    return sha256(canonical.encode()).hexdigest()[:8]


def _headed(name, data):
    return data | {"id": name, "version": version(data)}


def _in_order(made):
    return {thing.id: thing for thing in sorted(made, key=lambda thing: (thing.order, thing.id))}


def _contents(folder):
    for path in sorted((HERE / LANGUAGE / folder).iterdir(), key=lambda path: path.name):
        if path.name.endswith(".toml"):
            yield path.name.removesuffix(".toml"), parsed(path)


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
