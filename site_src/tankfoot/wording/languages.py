"""Which languages there are and which one is spoken: English at first, a folder each."""

import os
from importlib.resources import files

FIRST = "en"  # what is not there in another language is said in this one
CHOSEN_BY = "TANKFOOT_LANGUAGE"  # before what the machine's own setting says
OF_A_MACHINE = ("LC_ALL", "LC_MESSAGES", "LANG")  # POSIX: the first that is set holds


def languages():
    """The languages that have a folder, the first one first."""
    found = sorted(folder.name for folder in files(__package__).iterdir() if (folder / "language.toml").is_file())
    return [FIRST, *(name for name in found if name != FIRST)]


def spoken(environment=os.environ):
    """The language that this machine asks for, where it is here.

    >>> spoken({"LANG": "es_MX.UTF-8"}), spoken({"LANG": "C"}), spoken({"LANG": "es_MX", "TANKFOOT_LANGUAGE": "en"})
    ('es', 'en', 'en')
    """
    asked = next(filter(None, map(environment.get, (CHOSEN_BY, *OF_A_MACHINE))), FIRST)
    name = asked.split(".")[0].split("_")[0].split("-")[0].lower()
    return name if name in languages() else FIRST


LANGUAGE = spoken()
