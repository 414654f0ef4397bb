"""The Spanish beside the English, text by text: which file, which key, what each says."""

import tomllib
from pathlib import Path

import tankfoot

PACKAGE = Path(tankfoot.__file__).parent
ROOMS = ("wording", "checklists")
NO_WORDS = {"id", "picture", "order", "numbers", "inputs", "standard", "number", "also", "number_from"}


def files(room, language):
    """{name from its language's folder: its tables}, such as "cards/vacuum"."""
    folder = PACKAGE / room / language
    return {
        f"{room}/{path.relative_to(folder).with_suffix('').as_posix()}": tomllib.loads(path.read_text("utf-8"))
        for path in sorted(folder.rglob("*.toml"))
    }


def texts(language):
    """{(file, key): text} of all that a language says."""
    data = {name: tables for room in ROOMS for name, tables in files(room, language).items()}
    return {(name, key): text for name, tables in data.items() for key, text in leaves(tables)}


def leaves(data, key=""):
    """(key, text) of each text: a row of a list goes by its id where it has one, else by its place."""
    if isinstance(data, str):
        yield key, data
    elif isinstance(data, dict):
        for name, inner in data.items():
            if name not in NO_WORDS:
                yield from leaves(inner, f"{key}.{name}".lstrip("."))
    elif isinstance(data, list):
        for place, inner in enumerate(data):
            name = inner.get("id", place) if isinstance(inner, dict) else place
            yield from leaves(inner, f"{key}.{name}")


def excuses(table):
    """The rows of one table of ``spanish_excuses.toml``."""
    return tomllib.loads(Path(__file__).with_name("spanish_excuses.toml").read_text("utf-8"))[table]
