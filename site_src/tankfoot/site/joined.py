"""Joins the JavaScript modules into one file, so that a phone without signal waits for one and not for fifteen in turn.

Each module becomes a function with the same body, run when it is first taken: a page runs no more than it uses.
"""

import json
import os.path
import posixpath
import re

JOINED = "js/tankfoot.js"
SCREEN = re.compile(r'<script type="module" src="[^"]*js/([\w/]+)\.js"></script>\n?')
IMPORT = re.compile(r'^import (?:(\{[^}]*\}) from )?"(\.[^"]+)";\n', re.MULTILINE)
EXPORT = re.compile(r"^export ((?:async )?(?:function\*?|class|const) (\w+))", re.MULTILINE)
LATER = re.compile(r'\bimport\("(\.[^"]+)"\)')
UNKNOWN = re.compile(r"^(?:import\b(?!\()|export\b).*", re.MULTILINE)

# Its names begin with $, as no module's own do.
FRAME = """const $made = {};
const $take = (name) => $made[name] ??= $modules[name]();
const $beside = (name) => (address) => $take(new URL(address, `file:///${name}`).pathname.slice(1));
const $modules = {
%s};
%sexport { $take as take };
"""
# A page names its screens; a thread of its own has the name of the one module that it runs.
START = """const $screens = globalThis.document?.querySelector("[data-screens]").dataset.screens ?? self.name;
for (const name of $screens.split(" ")) $take(`${name}.js`);
"""


def joined(modules, start=START):
    """One module made of ``modules``, texts by their path below js/; its ``take(path)`` gives what that one exports.
    ``start`` is what it runs at once: the page's screens.

    What no other module imports outright may await at its top level: ``take`` gives a promise of it. ValueError where
    an import or export is written in a way that is not known here.
    """
    needed = {beside(path, address) for path, text in modules.items() for _, address in IMPORT.findall(text)}
    functions = "".join(_function(path, text, path not in needed) for path, text in sorted(modules.items()))
    return FRAME % (functions, start)


def joined_for(name, modules):
    """One module of what the one at the path ``name`` needs, and no more: it runs that one at once."""
    return joined(_needed(name, modules), f"$take({json.dumps(name)});\n")


def _needed(name, modules):
    found, left = {}, [name]
    while left:
        path = left.pop()
        if path not in found:
            found[path] = modules[path]
            addresses = [address for _, address in IMPORT.findall(modules[path])] + LATER.findall(modules[path])
            left += [beside(path, address) for address in addresses]
    return found


def _function(path, text, is_last):
    names = [name for _, name in EXPORT.findall(text)]
    body = IMPORT.sub(lambda found: _taken(path, *found.groups()), text)
    body = EXPORT.sub(r"\1", body)
    if strange := UNKNOWN.search(body):
        raise ValueError(f"{path}: cannot join {strange[0]!r}")
    body = body.replace("import.meta.url", f"new URL({json.dumps(path)}, import.meta.url)")
    body = re.sub(r"\bimport\(", f"$beside({json.dumps(path)})(", body)
    return f"{'async ' if is_last else ''}{json.dumps(path)}() {{\n{body}return {{ {', '.join(names)} }};\n}},\n"


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


def naming_screens(page, root):
    """The HTML of the file ``page`` below ``root`` with one script, which names the screens that the page runs."""
    html = page.read_text(encoding="utf-8")
    address, screens = os.path.relpath(root / JOINED, page.parent), " ".join(SCREEN.findall(html))
    script = f'<script type="module" src="{address}" data-screens="{screens}"></script>\n'
    first, rest = SCREEN.split(html, maxsplit=1)[::2]
    return first + script + SCREEN.sub("", rest)
