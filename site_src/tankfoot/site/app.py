"""The Flask app: one route a page, and the JavaScript rooms served under the names they have in Python."""

import posixpath

from flask import Flask, request
from jinja2 import Undefined, pass_context

from tankfoot import __version__
from tankfoot.calculators import SIGNALS, calculators
from tankfoot.checklists import cards, checklists, regions, versions
from tankfoot.quantities.units import offered
from tankfoot.report.marks import narrowed
from tankfoot.site.at_once import allowed, at_once
from tankfoot.site.pages import FIRST_CARDS, PAGES
from tankfoot.site.qr import qr
from tankfoot.site.texts import example_inputs, full_date, page_title, typed, with_examples, with_places, worked
from tankfoot.site.tongues import folder_of, roots, tongues
from tankfoot.wording import of_language, words
from tankfoot.wording.languages import FIRST, LANGUAGE


class Missing(Undefined):
    """What a page would show and is not there: stops the build. Whether it is there may be asked."""

    __str__ = __iter__ = __len__ = Undefined._fail_with_undefined_error


def create_app(address=None):
    """The app with all its pages; the freezer walks it, nothing else needs to.

    ``address``: where the site will stand, for the QR codes of the printed sheets.
    """
    app = Flask(__name__, static_folder=None)
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.jinja_env.undefined = Missing
    app.jinja_env.filters["shown"] = _shown
    app.context_processor(_names)
    app.jinja_env.globals.update(
        at_once=at_once, allowed=allowed,
        site_address=address and address + folder_of(LANGUAGE), qr=qr, narrowed=narrowed,
    )
    for rule, view in (PAGES | (FIRST_CARDS if LANGUAGE != FIRST else {})).items():
        app.add_url_rule(rule, view_func=view)
    return app


def link(path):
    """The address of ``path`` (from the site's root) relative to the page being made, so that any host folder will do.

    >>> app = create_app()
    >>> with app.test_request_context("/calculators/purge-volume/"):
    ...     link("settings/")
    '../../settings/'
    """
    slash = "/" if path.endswith("/") or not path else ""
    here = posixpath.dirname(request.path)
    return posixpath.relpath("/" + path, here) + slash


def _names():
    return {
        "app": words("app"), "words": words, "language": LANGUAGE, "link": link, "version": __version__,
        "roots": roots(request.path), "tongues": tongues(request.path), "of_language": of_language,
        "page_title": page_title, "full_date": full_date,
        "calculators": calculators(), "checklists": checklists(), "cards": cards(), "regions": regions(),
        "versions": versions, "signals": SIGNALS, "offered": offered,
        "typed": typed, "worked": worked, "example_inputs": example_inputs, "with_examples": with_examples,
    }


@pass_context
def _shown(context, text):
    return with_places(text, language=context.get("language", LANGUAGE))
