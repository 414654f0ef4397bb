"""Names in a page's head every module that it will import: the phone fetches all at once, not one after another."""

import os.path
import re

NAMED = re.compile(r'<(?:script type="module" src|link rel="modulepreload" href)="([^"]+)"')
IMPORTED = re.compile(r'\b(?:from|import) ?"(\.[^"]+)"')
FIRST_MODULE = '<script type="module"'


def with_preloads(page):
    """The HTML of ``page`` (the path of a frozen file) with a preload for each module that its own modules import."""
    html = page.read_text(encoding="utf-8")
    named = [page.parent / address for address in NAMED.findall(html)]
    links = "".join(
        f'<link rel="modulepreload" href="{os.path.relpath(module, page.parent)}">\n' for module in imported_by(named)
    )
    return html.replace(FIRST_MODULE, links + FIRST_MODULE, 1)


def imported_by(named):
    """The modules that those of the paths ``named`` import, and the ones that these import, each once."""
    seen = {path.resolve() for path in named}
    found, unread = [], list(named)
    while unread:
        module = unread.pop(0)
        for address in IMPORTED.findall(module.read_text(encoding="utf-8")):
            path = (module.parent / address).resolve()
            if path not in seen:
                seen.add(path)
                found.append(path)
                unread.append(path)
    return found
