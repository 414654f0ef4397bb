"""What a folder of frozen files holds, read from the folder itself."""

import re
from html.parser import HTMLParser

VOID = {"br", "hr", "img", "input", "link", "meta", "wbr"}  # Source: HTML Living Standard, void elements in use here
PACK = "tankfoot.pack"  # most of the files once more, in one
HEADINGS = {"h1", "h2", "h3", "h4", "h5", "h6"}


def written(site):
    """The files of one language's site. One that stands in a folder of it, with a worker of its own, is another."""
    others = [folder for folder in site.iterdir() if (folder / "sw.js").is_file()]
    found = (path for path in site.rglob("*") if path.is_file())
    return sorted(path for path in found if not any(path.is_relative_to(other) for other in others))


def pages(site):
    """The addresses of all pages, relative to the site's root; the root itself is ''."""
    folders = sorted(path.parent.relative_to(site).as_posix() for path in written(site) if path.name == "index.html")
    return ["" if folder == "." else f"{folder}/" for folder in folders]


def files(site):
    """The addresses of all files that the worker has to keep, relative to the root ('./')."""
    addresses = {path.relative_to(site).as_posix() for path in written(site)} - {"sw.js", PACK}
    return {re.sub(r"(^|/)index\.html$", r"\1", address) or "./" for address in addresses}


def html_files(site):
    """All HTML files, the page for an unknown address with them."""
    return [path for path in written(site) if path.suffix == ".html"]


def calculator_pages(site):
    """{id: address} of the calculators' pages."""
    return {page.split("/")[1]: page for page in pages(site) if re.fullmatch(r"calculators/[^/]+/", page)}


def checklist_pages(site):
    """{id: address} of the pages of Tankfoot's own checklists."""
    found = {page.split("/")[1]: page for page in pages(site) if re.fullmatch(r"checklists/[^/]+/", page)}
    return {id: page for id, page in found.items() if id not in ("practice", "own")}


class _Kinds(HTMLParser):
    """The kinds of elements on a page, each with all that it stands in, and which heading follows which."""

    def __init__(self, html):
        super().__init__()
        self.kinds, self._within, self._heading = set(), [], None
        self.feed(html)

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        names = tuple(sorted((name, bool(text)) for name, text in given.items() if not name.startswith("data-")))
        kind = (tag, names, given.get("class"), given.get("role"), given.get("type"))
        self.kinds.add((*self._within, kind))
        if tag in HEADINGS:
            self.kinds.add((self._heading, tag))
            self._heading = tag
        if tag not in VOID:
            self._within.append(kind)

    def handle_startendtag(self, tag, attributes):
        within = list(self._within)
        self.handle_starttag(tag, attributes)
        self._within = within

    def handle_endtag(self, tag):
        while self._within and self._within.pop()[0] != tag:
            pass


def one_page_of_each_kind(site):
    """Few HTML files that between them have every kind of element in every place where any page has it."""
    kinds = {path.relative_to(site).as_posix(): _Kinds(path.read_text("utf-8")).kinds for path in html_files(site)}
    missing, chosen = set().union(*kinds.values()), []
    while missing:
        chosen.append(max(kinds, key=lambda address: len(kinds[address] & missing)))
        missing -= kinds[chosen[-1]]
    return chosen
