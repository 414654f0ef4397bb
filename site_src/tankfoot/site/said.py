"""Gives each module the tables of words that it asks for, one table a module: a page is sent those and no more."""

import posixpath
import re

from tankfoot.site.declared import literal, screens

TABLES = "wording/screens"  # the folder of these modules, below js/
TABLE = 'import { screens } from "../declared.js";\nscreens.%s = %s;\n'


def with_words(modules):
    """``modules``, {path below js/: text}, and those of all tables; whoever asks for a word imports its table."""
    tables = screens()
    asked = re.compile(rf'["`]({"|".join(tables)})\.|\bscreens\.({"|".join(tables)})\b')
    made = {f"{TABLES}/{name}.js": TABLE % (name, literal(table)) for name, table in tables.items()}
    return made | {path: _importing(path, text, asked) for path, text in modules.items()}


def _importing(path, text, asked):
    names = sorted({quoted or taken for quoted, taken in asked.findall(text)})
    beside = posixpath.relpath(TABLES, posixpath.dirname(path))
    return "".join(f'import "./{beside}/{name}.js";\n' for name in names) + text
