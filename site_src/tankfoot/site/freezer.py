"""Freezes the app into static files and writes the service worker that keeps them all on the phone.

Each language is a site of its own, with its own worker: the first one's at the root, any other's in a folder by its
name. A phone keeps the one that it speaks.
"""

import gzip
import hashlib
import json
import os
import shutil
import subprocess
import sys
import warnings
from os.path import relpath
from pathlib import Path
from traceback import extract_tb

from flask_frozen import Freezer
from jinja2 import UndefinedError

from tankfoot.calculators import calculators
from tankfoot.checklists import cards, checklists
from tankfoot.site.app import create_app
from tankfoot.site.at_once import AT_ONCE
from tankfoot.site.content_check import check_content
from tankfoot.site.declared import DECLARED
from tankfoot.site.faults import FAULTS, ContentError
from tankfoot.site.joined import IMPORT, joined_for
from tankfoot.site.pack import PACK, asked_at_first, packed
from tankfoot.site.scripts import Scripts, modules_of, naming_screens, threads_of
from tankfoot.site.shorten import shortened, shortened_sheet
from tankfoot.site.sources import ASSETS, PACKAGE, modules
from tankfoot.site.tables import with_tables
from tankfoot.site.tongues import folder_of
from tankfoot.wording.languages import CHOSEN_BY, FIRST, LANGUAGE, languages

NOTE = "README"  # the one line in the output folder that git keeps
WORKER = "sw.js"
THREAD = "browser/storage/journal_worker.js"  # each page starts it: the pages' file would be sent and parsed twice
TEMPLATES = PACKAGE / "site" / "templates"
OTHER_FOLDERS = languages()[1:] if LANGUAGE == FIRST else []  # the sites that stand in folders of this one
HASH_DIGITS = 16  # of SHA-256 in hex: enough to know a file by, and every digit is kept on the phone


def freeze(output, address=None):
    """Writes the whole site into the folder ``output``, in all languages. Returns the number of files and their bytes.

    ``address``: where the site will stand; with it the printed sheets carry QR codes, without it they say how to.

    What the folder held before is removed, except its README. Content that does not fit together stops the build
    before that; so does, later, a page that cannot be made or would be served under another type than its name says.
    """
    check_content()
    others = [language for language in languages() if language != LANGUAGE]
    started = [_started(output, address, language) for language in others]
    try:
        freeze_one(output / folder_of(LANGUAGE), address)
        for other in started:
            _ended(other)
    finally:
        for other in started:
            other.kill()
    sizes = [path.stat().st_size for path in output.rglob("*") if path.is_file() and path.name != NOTE]
    return len(sizes), sum(sizes)


def _started(output, address, language):
    """Another language in a process of its own: what a module says is read in one language as it is loaded."""
    told = {CHOSEN_BY: language, "PYTHONPATH": os.pathsep.join([str(PACKAGE.parent), os.environ.get("PYTHONPATH", "")])}
    command = [sys.executable, "-m", __name__, str(output / folder_of(language)), address or ""]
    return subprocess.Popen(command, env=os.environ | told, stderr=subprocess.PIPE, text=True)


def _ended(other):
    _, said = other.communicate()
    if other.returncode:
        raise ContentError(said.strip())


def freeze_one(output, address=None):
    """Writes the site in the language that is spoken."""
    check_content()
    app = create_app(address)
    app.config.update(
        PROPAGATE_EXCEPTIONS=True,  # or a page's error would come as "Unexpected status 500"
        FREEZER_DESTINATION=str(output.resolve()),
        FREEZER_DESTINATION_IGNORE=[NOTE, *OTHER_FOLDERS],
        FREEZER_REDIRECT_POLICY="error",
    )
    freezer = Freezer(app, with_no_argument_rules=True, log_url_for=False)
    freezer.register_generator(_addresses)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            freezer.freeze()
        except UndefinedError as missing:
            raise ContentError(_asked_for(missing)) from missing
    _join(output)
    _shorten_sheets(output)
    write_worker(output)


def _asked_for(missing):
    """The sentence for a name that a template asks for and that is not there; most of them are words."""
    frames = extract_tb(missing.__traceback__)
    place = [frame for frame in frames if Path(frame.filename).is_relative_to(TEMPLATES)][-1]
    return f"{Path(place.filename).name}, line {place.lineno}: {missing.message}: write the word, or correct the name."


def _join(output):
    """A few files in the place of all modules, one more for each thread, and each page's scripts."""
    rooms = output / "js"
    texts = with_tables({
        path.relative_to(rooms).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(rooms.rglob("*.js"))
    })
    shutil.rmtree(rooms)
    pages = {page: page.read_text(encoding="utf-8") for page in _written(output) if page.suffix == ".html"}
    threads = {path for text in texts.values() for path in threads_of(text)} - {THREAD}
    runs = {page: modules_of(html) for page, html in pages.items()}
    scripts = Scripts(texts, runs, output / "index.html", threads)
    written = {f"js/{THREAD}": joined_for(THREAD, texts), **scripts.files()}
    for address, text in written.items():
        (output / address).parent.mkdir(parents=True, exist_ok=True)
        (output / address).write_text(shortened(text), encoding="utf-8")
    for page, html in pages.items():
        page.write_text(naming_screens(html, relpath(rooms, page.parent), scripts.of(page)), encoding="utf-8")


def _shorten_sheets(output):
    for sheet in (path for path in _written(output) if path.suffix == ".css"):
        sheet.write_text(shortened_sheet(sheet.read_text(encoding="utf-8")), encoding="utf-8")


def _addresses():
    for name in calculators():
        yield "calculator_page", {"name": name}
    for name in checklists():
        yield "checklist_page", {"name": name}
    for name in cards():
        yield "card_page", {"name": name}
        if LANGUAGE != FIRST:
            yield "first_card", {"name": name}
    for room in DECLARED:
        yield "declared", {"room": room}
    for name in (name for name in modules() if name not in AT_ONCE):
        yield "script", {"name": name}
    for path in sorted(ASSETS.rglob("*")):
        if path.is_file():
            yield "asset", {"name": path.relative_to(ASSETS).as_posix()}


def _written(output):
    """The files of this language's site."""
    own = (path for path in sorted(output.iterdir()) if path.name not in (NOTE, *OTHER_FOLDERS))
    return sorted(file for path in own for file in ([path] if path.is_file() else path.rglob("*")) if file.is_file())


def write_worker(output):
    """The pack of the files in ``output`` and the service worker that knows each of them: the same files give the
    same two, to the byte.
    """
    files = {_address(path.relative_to(output).as_posix()): path for path in _written(output)}
    for of_a_build in (WORKER, PACK):
        files.pop(of_a_build, None)
    first = asked_at_first(output) | {(output / "js" / THREAD).resolve()}
    apart = [address for address, path in files.items() if path.resolve() in first]
    pack, whole = packed({address: path for address, path in files.items() if address not in apart})
    (output / PACK).write_bytes(pack)
    texts = {address: path.read_bytes() for address, path in files.items()}
    known = {address: [_hash(data), len(gzip.compress(data, 9))] for address, data in texts.items()}
    template = shortened(_worker())
    told = {
        "files": known,
        "asked_at_first": apart,
        "pack": {"address": PACK, "size": len(pack), "whole": whole, "hash": _hash(pack)},
        "version": _hash((json.dumps(known) + template).encode()),
        "prefix": f"tankfoot-{folder_of(LANGUAGE)}".replace("/", "-"),
        "others": [f"{folder}/" for folder in OTHER_FOLDERS],
    }
    for name, value in told.items():
        template = template.replace(f'"{{{{{name}}}}}"', _lines(value))
    (output / WORKER).write_text(template, encoding="utf-8")


def _worker():
    """The worker and what it imports, in one file: a phone asks for it anew each day."""
    def text_of(name):
        return (TEMPLATES / name).read_text(encoding="utf-8")

    return IMPORT.sub(lambda found: text_of(found[2]).replace("export ", ""), text_of(WORKER))


def _hash(data):
    return hashlib.sha256(data).hexdigest()[:HASH_DIGITS]


def _lines(value):
    """JSON with a line for each file, so that two workers can be compared."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return text.replace("],", "],\n")


def _address(path):
    """A file's final address: a folder's page is asked for by the folder, so that no host answers with a redirect.

    >>> _address("settings/index.html"), _address("index.html"), _address("js/a.js")
    ('settings/', './', 'js/a.js')
    """
    if path == "index.html":
        return "./"
    return path.removesuffix("index.html") if path.endswith("/index.html") else path


if __name__ == "__main__":
    try:
        freeze_one(Path(sys.argv[1]), sys.argv[2] or None)
    except FAULTS as fault:
        sys.exit(str(fault))
