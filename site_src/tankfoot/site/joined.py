"""Joins the JavaScript modules into a few files, so that a phone without signal does not wait for fifteen in turn.

Each module becomes a function with the same body, run when it is first taken: a page runs no more than it uses. The
function stands in parentheses, since engines compile such a one while the file still comes, on a thread of their own.
"""

import json
import posixpath
import re

IMPORT = re.compile(r'^import (?:(\{[^}]*\}) from )?"(\.[^"]+)";\n', re.MULTILINE)
EXPORT = re.compile(r"^export ((?:async )?(?:function\*?|class|const) (\w+))", re.MULTILINE)
LATER = re.compile(r'\bimport\("(\.[^"]+)"\)')
LATER_BY_NAME = re.compile(r"\bimport\(`(\./)\$\{")  # one of those that lie beside it
UNKNOWN = re.compile(r"^(?:import\b(?!\()|export\b).*", re.MULTILINE)

# Its names begin with $, as no module's own do.
ALONE = """const $made = {};
const $take = (name) => $made[name] ??= $modules[name]();
const $beside = (name) => (address) => $take(new URL(address, `file:///${name}`).pathname.slice(1));
const $modules = {
%s};
%sexport { $take as take };
"""


def joined(modules, start=""):
    """One file made of ``modules``, texts by their path below js/; its ``take(path)`` gives what that one exports.
    ``start`` is what it runs at once.

    What no other module imports outright may await at its top level: ``take`` gives a promise of it. ValueError where
    an import or export is written in a way that is not known here.
    """
    return ALONE % (functions(modules, modules), start)


def joined_for(name, modules):
    """One file of what the module at the path ``name`` needs, and no more: it runs that one at once."""
    return joined({path: modules[path] for path in needed(modules, [name])}, f"$take({json.dumps(name)});\n")


def needed(modules, names):
    """The paths of what the modules ``names`` import outright, and of what those do; with themselves."""
    found, left = set(), list(names)
    while left:
        path = left.pop()
        if path not in found:
            found.add(path)
            left += imported(path, modules[path])
    return found


def imported(path, text):
    """The paths of what the module at ``path`` imports outright."""
    return [beside(path, address) for _, address in IMPORT.findall(text)]


def asked_later(modules):
    """The paths of the modules that others ask for as a page runs."""
    found = {beside(path, address) for path, text in modules.items() for address in LATER.findall(text)}
    for path, text in modules.items():
        for address in LATER_BY_NAME.findall(text):
            folder = beside(path, address)
            found |= {other for other in modules if posixpath.dirname(other) == folder}
    return found


def functions(modules, all_modules):
    """The text of ``modules``, some of ``all_modules``, as functions by their path."""
    imported_outright = {other for path, text in all_modules.items() for other in imported(path, text)}
    return "".join(_function(path, text, path not in imported_outright) for path, text in sorted(modules.items()))


def _function(path, text, is_last):
    names = [name for _, name in EXPORT.findall(text)]
    body = IMPORT.sub(lambda found: _taken(path, *found.groups()), text)
    body = EXPORT.sub(r"\1", body)
    if strange := UNKNOWN.search(body):
        raise ValueError(f"{path}: cannot join {strange[0]!r}")
    body = body.replace("import.meta.url", f"new URL({json.dumps(path)}, import.meta.url)")
    body = re.sub(r"\bimport\(", f"$beside({json.dumps(path)})(", body)
    function = f"{'async ' if is_last else ''}() => {{\n{body}return {{ {', '.join(names)} }};\n}}"
    return f"{json.dumps(path)}: ({function}),\n"


def _taken(path, names, address):
    """
    >>> _taken("calculators/sum.js", "{ units, kinds as all }", "../quantities/units.js")
    'const { units, kinds: all } = $take("quantities/units.js");\\n'
    """
    taken = f"$take({json.dumps(beside(path, address))});\n"
    return f"const {names.replace(' as ', ': ')} = {taken}" if names else taken


def beside(path, address):
    """The path of what a module at ``path`` imports by a relative ``address``."""
    return posixpath.normpath(posixpath.join(posixpath.dirname(path), address))
