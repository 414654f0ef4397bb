"""Gives each module the tables that it asks for: the words of a screen, a sum. A page is sent those and no more."""

import posixpath
import re

from tankfoot.calculators import calculators
from tankfoot.site.declared import DECLARED, literal, screens

SCREENS, SUMS = "wording/screens", "calculators/sums"  # the folders of these modules, below js/
SCREEN = 'import { screens } from "../declared.js";\nscreens.%s = %s;\n'
SUM = """import { calculators } from "../declared.js";
import { calculatorWords } from "../../wording/declared.js";
calculators["%s"] = %s;
calculatorWords["%s"] = %s;
"""


def with_tables(modules):
    """``modules``, {path below js/: text}, and those of all tables; whoever asks for one imports it.

    A module asks for a screen by the first part of a key, for a sum by its id in quotes, unless that is a single word,
    which may mean something else. The sum's own module has its table in any case.
    """
    words, sums = screens(), _sums()
    asked = re.compile(rf'["`]({"|".join(words)})\.|\bscreens\.({"|".join(words)})\b')
    named = re.compile(rf'"({"|".join(id for id in sums if "-" in id)})"')
    twins = {f"calculators/{id.replace('-', '_')}.js": id for id in sums}
    whole = {"calculators/declared.js": "calculators", "wording/declared.js": "calculatorWords"}
    left = modules | {path: _without(modules[path], name) for path, name in whole.items()}
    made = {f"{SCREENS}/{name}.js": SCREEN % (name, literal(table)) for name, table in words.items()}
    made |= {f"{SUMS}/{id}.js": text for id, text in sums.items()}
    for path, text in left.items():
        screens_of = {f"{SCREENS}/{quoted or taken}" for quoted, taken in asked.findall(text)}
        sums_of = {f"{SUMS}/{id}" for id in [*named.findall(text), *([twins[path]] if path in twins else [])]}
        made[path] = _importing(path, sorted(screens_of | sums_of)) + text
    return made


def _sums():
    fields, words = DECLARED["calculators"]()["calculators"], DECLARED["wording"]()["calculatorWords"]
    return {id: SUM % (id, literal(fields[id]), id, literal(words[id])) for id in calculators()}


def _without(text, name):
    """The module's ``text`` with nothing in the table ``name``."""
    return re.sub(rf"^(export const {name} = ).*;$", r"\1{};", text, flags=re.MULTILINE)


def _importing(path, tables):
    return "".join(f'import "./{posixpath.relpath(table, posixpath.dirname(path))}.js";\n' for table in tables)
