"""What a folder of frozen files holds, read from the folder itself."""

import re


def pages(site):
    """The addresses of all pages, relative to the site's root; the root itself is ''."""
    folders = sorted(path.parent.relative_to(site).as_posix() for path in site.rglob("index.html"))
    return ["" if folder == "." else f"{folder}/" for folder in folders]


def files(site):
    """The addresses of all files that the worker has to keep, relative to the root ('./')."""
    addresses = {path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()} - {"sw.js"}
    return {re.sub(r"(^|/)index\.html$", r"\1", address) or "./" for address in addresses}


def html_files(site):
    """All HTML files, the page for an unknown address with them."""
    return sorted(site.rglob("*.html"))


def calculator_pages(site):
    """{id: address} of the calculators' pages."""
    return {page.split("/")[1]: page for page in pages(site) if re.fullmatch(r"calculators/[^/]+/", page)}


def checklist_pages(site):
    """{id: address} of the pages of Tankfoot's own checklists."""
    found = {page.split("/")[1]: page for page in pages(site) if re.fullmatch(r"checklists/[^/]+/", page)}
    return {id: page for id, page in found.items() if id not in ("practice", "own")}
