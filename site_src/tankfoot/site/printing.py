"""The lists and cards on paper: one sheet each, all in one file, as PDF where there is a Chromium to make it."""

import os
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

from tankfoot.checklists import cards, checklists
from tankfoot.site.app import create_app
from tankfoot.site.content_check import check_content
from tankfoot.site.papers import PAPERS
from tankfoot.site.sources import ASSETS
from tankfoot.wording import of_language, words
from tankfoot.wording.languages import LANGUAGE

CHROMIUMS = (
    "chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "microsoft-edge", "msedge",
)
RELATIONS = "labelledby|describedby|controls|details|errormessage|owns|flowto|activedescendant"
REFERENCE = re.compile(  # an attribute that holds ids, a link into the page itself, and a paint or clip of SVG's
    rf"""(?<![\w-])(?P<before>(?:id|for|list|headers|form|aria-(?:{RELATIONS}))="|(?:xlink:)?href="#|url\('?#)(?P<names>[^"')]+)"""
)
PATIENCE = 120  # seconds for a browser to print


class PrintError(Exception):
    """A PDF that could not be made: what the browser said."""


def sheets_html(paper="a5", address=None):
    """All sheets as one page of HTML with everything it needs inside: cards first, then the lists in their order."""
    check_content()
    client = create_app(address).test_client()
    paths = [f"/emergency/{name}/" for name in cards()] + [f"/checklists/{name}/" for name in checklists()]
    mains = [_main(client.get(path).get_data(as_text=True), number) for number, path in enumerate(paths)]
    sizes = f"@page {{ size: {PAPERS[paper]}; }} main {{ break-after: page; }} main:last-child {{ break-after: auto; }}"
    styles = [(ASSETS / "css" / name).read_text(encoding="utf-8") for name in ("tankfoot.css", "print.css")]
    title = words("lists")["sheet"]["all"].format(app=words("app")["name"])
    return "\n".join([
        "<!doctype html>", f'<html lang="{LANGUAGE}" data-theme="light"{_long()}>', "<head>", '<meta charset="utf-8">',
        f"<title>{title}</title>", "<style>", *styles, sizes, "</style>", "</head>", "<body>",
        *mains, "</body>", "</html>", "",
    ])


def _long():
    return " data-long" if of_language(LANGUAGE)["runs_long"] else ""


def _main(page, number):
    """The main part of one page, without scripts, its ids and all that refers to them made its own."""
    main = re.search(r"<main.*</main>", page, re.DOTALL)[0]
    without_scripts = re.sub(r"<script.*?</script>", "", main, flags=re.DOTALL)
    return with_own_ids(without_scripts, number)


def with_own_ids(html, number):
    """``html`` with ``number`` behind each id and behind all that refers to one in the same page.

    >>> with_own_ids('<use href="#cone"/><g aria-labelledby="a b"><a href="../#top">', 7)
    '<use href="#cone-7"/><g aria-labelledby="a-7 b-7"><a href="../#top">'
    """
    def renamed(found):
        return found["before"] + " ".join(f"{name}-{number}" for name in found["names"].split())

    return REFERENCE.sub(renamed, html)


def chromium():
    """The path of a Chromium or a browser made from it, or None."""
    return next(filter(None, map(shutil.which, CHROMIUMS)), None)


def print_pdf(browser, html, output):
    """Prints the text ``html`` to the file ``output``; PrintError where the ``browser`` does not."""
    says = words("command")["print"]
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        page, made = Path(folder) / "sheets.html", Path(folder) / "sheets.pdf"
        page.write_text(html, encoding="utf-8")
        command = [
            browser, "--headless", "--disable-gpu", "--no-pdf-header-footer", *_without_sandbox(),
            f"--user-data-dir={folder}/profile", f"--print-to-pdf={made}", page.as_uri(),
        ]
        try:
            said = subprocess.run(command, capture_output=True, text=True, timeout=PATIENCE, check=False).stderr
        except subprocess.TimeoutExpired as late:
            raise PrintError(says["too_slow"].format(browser=browser, seconds=PATIENCE)) from late
        if not made.exists():
            reason = (said.strip().splitlines() or [says["no_reason"]])[-1]
            raise PrintError(says["printed_nothing"].format(browser=browser, reason=reason))
        shutil.copyfile(made, output)


def _without_sandbox():
    """The superuser of a container has no sandbox; Chromium then prints only without one."""
    return ["--no-sandbox"] if os.name == "posix" and os.geteuid() == 0 else []
