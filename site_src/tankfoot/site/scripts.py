"""The files of script that a site has, and which of them a page asks for.

A file has the modules that the same pages need (``parts.py``). The base is the one that all others import: it knows in
which files lies what a page asks for only as it runs.
"""

import json
import re
from hashlib import sha256

from tankfoot.site.joined import asked_later, functions, needed
from tankfoot.site.parts import parts
from tankfoot.site.shorten import shortened
from tankfoot.site.tables import SCREENS, SUMS

ALL = "js/tankfoot.js"  # what any module can be taken from, in a console and in tests: no page names it
BASE = "base"
BUILD_DIGITS = 8  # of SHA-256 in hex: enough to tell two builds of a file apart
SCREEN = re.compile(r'<script type="module" src="[^"]*js/([\w/]+)\.js"></script>\n?')
SUM = re.compile(r'data-calculator="([\w-]+)"')
ASKED = re.compile(r'data-asks-for="([\w/]+)"')  # what a page asks for itself as it runs, in any case
FIRST = 6  # pages that the first one counts as: on a first visit each of its files is one request more
NEW_THREAD = re.compile(r'\bTHREAD = "([\w/]+)"')

# Names begin with $, as no module's own do. The last of the files that a page names starts its screens. What is asked
# for later must be of the same build: another window may have taken the next one meanwhile.
OF_BASE = """const $made = {};
const $modules = {};
const $files = {{files}};
const $builds = {{builds}};
const $take = (name) => $made[name] ??= $modules[name]();
const $beside = (name) => async (address) => {
  const path = new URL(address, `file:///${name}`).pathname.slice(1);
  await Promise.all($files[path].map((file) => import(`./${file}.js`)));
  return $take(path);
};
const $page = globalThis.document?.querySelector("[data-screens]")?.dataset;
const $lacking = new Set($page?.files.split(" "));
const $add = (file, build, modules) => {
  if ($builds[file] !== build) throw new Error(`${file}.js is of another version: load the page anew`);
  Object.assign($modules, modules);
  if (!$lacking.delete(file) || $lacking.size) return;
  for (const name of $page.screens.split(" ")) $take(`${name}.js`);
};
export { $add, $beside, $take, $take as take };
"""
OF_PART = 'import { $add, $beside, $take } from "./base.js";\n'


class Scripts:
    """What is made of ``modules``, {path below js/: text}, for ``pages``, {page: paths of what it runs}, the ``first``
    page among them, and ``threads``, paths of modules.
    """

    def __init__(self, modules, pages, first, threads):
        self._modules, self._threads, self._later = modules, threads, asked_later(modules)
        self._pages = {page: needed(modules, names) for page, names in pages.items()}
        self._alone = {path: needed(modules, [path]) for path in {*threads, *self._later}}
        kinds = {frozenset(needs): needs for needs in [*self._pages.values(), *self._alone.values()]}
        left = set(modules).difference(*kinds)
        kinds |= {"nobody": left} if left else {}
        weights = {frozenset(self._pages[first]): FIRST}
        base, *rest = parts(kinds, {path: len(shortened(text)) for path, text in modules.items()}, weights)
        self._named = {BASE: base, **{one[0].removesuffix(".js").replace("/", "-"): one for one in rest}}

    def of(self, page):
        """The names of the files that ``page`` asks for, the base first."""
        return self._with(self._pages[page])

    def files(self):
        """{address: text} of all files."""
        made = {name: self._functions(paths) for name, paths in self._named.items()}
        builds = {name: sha256(text.encode()).hexdigest()[:BUILD_DIGITS] for name, text in made.items()}
        later = {path: self._with(self._alone[path])[1:] for path in sorted(self._later)}
        base = OF_BASE.replace("{{files}}", _json(later)).replace("{{builds}}", _json(builds))
        texts = {}
        for name, functions_of_it in made.items():
            head = base if name == BASE else OF_PART
            texts[f"js/{name}.js"] = f'{head}$add("{name}", "{builds[name]}", {{\n{functions_of_it}}});\n'
        for path in self._threads:
            texts[f"js/{path}"] = _taking(self._with(self._alone[path]), "../" * path.count("/"), path)
        every = "".join(f'import "./{name}.js";\n' for name in self._named)
        tables = [path for path in sorted(self._modules) if path.startswith((f"{SCREENS}/", f"{SUMS}/"))]
        told = "".join(f'take("{path}");\n' for path in tables)
        return texts | {ALL: f'{every}import {{ take }} from "./{BASE}.js";\n{told}export {{ take }};\n'}

    def _with(self, needs):
        return [BASE, *(name for name, paths in self._named.items() if name != BASE and needs.intersection(paths))]

    def _functions(self, paths):
        return functions({path: self._modules[path] for path in paths}, self._modules)


def _taking(files, root, path):
    imports = "".join(f'import "{root}{file}.js";\n' for file in files[1:])
    return f'import {{ take }} from "{root}{BASE}.js";\n{imports}take({json.dumps(path)});\n'


def _json(value):
    return json.dumps(value, separators=(",", ":"))


def threads_of(text):
    """The paths of the modules that a module with this ``text`` runs in threads of their own.

    >>> threads_of('const THREAD = "browser/cost/thread";')
    ['browser/cost/thread.js']
    """
    return [f"{name}.js" for name in NEW_THREAD.findall(text)]


def modules_of(html):
    """The paths of the modules that a page runs and of those that it asks for, its sums among them."""
    sums = [f"calculators/{id.replace('-', '_')}" for id in SUM.findall(html)]
    return [f"{name}.js" for name in SCREEN.findall(html) + ASKED.findall(html) + sums]


def naming_screens(html, address, files):
    """The ``html`` of a page with one script for each of ``files`` in the place of one for each module. The first names
    what the page runs, and the files. ``address``: of js/, from the page.
    """
    named = f' data-screens="{" ".join(SCREEN.findall(html))}" data-files="{" ".join(files)}"'
    tags = [
        f'<script type="module" src="{address}/{file}.js"{named if file == BASE else ""}></script>\n' for file in files
    ]
    first, rest = SCREEN.split(html, maxsplit=1)[::2]
    return first + "".join(tags) + SCREEN.sub("", rest)
