"""Which room of the package knows which, read from the imports of both languages, and which may, from DEVELOPERS.md."""

import ast
import posixpath
import re
from importlib.resources import files
from pathlib import Path

PACKAGE = Path(str(files("tankfoot")))
PAGE = Path(__file__).parents[1] / "DEVELOPERS.md"
ROW = re.compile(r"^\| (`[^|]+`) \|[^|]+\| ([^|]+) \|$", re.MULTILINE)
NAME = re.compile(r"`([\w.]+)/?`")
ALL = "all above"
DOTTED = re.compile(r"tankfoot(\.\w+)+")

# Of JavaScript: `import ... from "x"`, `import "x"`, `export ... from "x"`; import("x"), in a type or in the code.
STATIC = re.compile(r"""^\s*(?:import|export\s*[*{])(?:[^;()"'=]*\bfrom)?\s*["']([^"']+)["']""", re.MULTILINE)
ASKED_FOR = re.compile(r"(?<![\w.])import\(\s*([^)]*)\)")
TEXT = re.compile(r"""(["'`])(\.{1,2}/[^"'`$]*)""")


class Unread(Exception):
    """An import of which nobody can tell what it imports."""


def table(heading):
    """{place: the places it may know} from the table under a ``heading`` of DEVELOPERS.md, in the order of its rows.

    A row may hold several places; what it may know is a list, "nothing" or "all above".
    """
    under = re.split(r"^#+ ", PAGE.read_text(encoding="utf-8"), flags=re.MULTILINE)
    section = next(part for part in under if part.startswith(f"{heading}\n"))
    may, above = {}, []
    for names, known in ROW.findall(section):
        places = NAME.findall(names)
        for place in places:
            may[place] = set(above) if known == ALL else set(NAME.findall(known))
        if not set().union(*(may[place] for place in places)) <= set(above):
            raise AssertionError(f"{heading}: {names} may know what is not above it")
        above += places
    return may


def modules(ending):
    """{path below the package: text} of all modules of a language; the templates of ``site`` are none."""
    paths = (path for path in sorted(PACKAGE.rglob(f"*{ending}")) if "templates" not in path.parts)
    return {path.relative_to(PACKAGE).as_posix(): path.read_text(encoding="utf-8") for path in paths}


def python_imports(path, text):
    """The dotted names below ``tankfoot`` that a Python module imports, anywhere in it, or reads files of."""
    package = ["tankfoot", *path.split("/")[:-1]]
    found = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            start = package[: len(package) - node.level + 1] if node.level else []
            module = ".".join([*start, *([node.module] if node.module else [])])
            found |= {f"{module}.{name.name}" for name in node.names}
        elif isinstance(node, ast.Constant) and DOTTED.fullmatch(str(node.value)):
            found.add(node.value)
    return {name.removeprefix("tankfoot.") for name in found if name.startswith("tankfoot.")}


def script_imports(path, text):
    """The paths below the package that a JavaScript module imports, whenever it does, or takes types from."""
    addresses = STATIC.findall(text)
    for asked in ASKED_FOR.findall(text):
        if not (start := TEXT.match(asked)):
            raise Unread(f"{path}: import({asked})")
        addresses.append(start[2])
    return {posixpath.normpath(posixpath.join(posixpath.dirname(path), address)) for address in addresses}


def room_of(path):
    """The room that a module, by its path or dotted name, stands in.

    >>> room_of("purge/table.toml"), room_of("purge.machine.LAST"), room_of("cli.py")
    ('purge', 'purge', 'cli')
    """
    return re.split(r"[./]", path)[0]


def place_of(path):
    """The place in ``browser`` that a module stands in, None of another room's.

    >>> place_of("browser/purge/run.js"), place_of("purge/machine.js")
    ('purge', None)
    """
    return path.split("/")[1] if room_of(path) == "browser" else None
