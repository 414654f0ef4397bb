"""The square code, on a printed sheet or at a terminal, that opens a page on a phone."""

import io
from urllib.parse import urlsplit

import segno
from markupsafe import Markup

from tankfoot.wording import words

LONGEST = 200  # characters: a longer address makes squares too small for wet paper; common practice, no source
QUIET_ZONE = 4  # modules of blank paper around it: ISO/IEC 18004


class AddressError(Exception):
    """An address of the site that no phone could open from a sheet: what is wrong, what to give."""


def site_root(text):
    """The address of the site as it stands before each path, with a slash at its end; AddressError otherwise.

    >>> site_root("https://cellar.example/tankfoot")
    'https://cellar.example/tankfoot/'
    """
    says = words("command")["print"]
    if len(text) > LONGEST:
        raise AddressError(says["long_address"].format(count=len(text), most=LONGEST))
    if not _is_ours(text):
        raise AddressError(says["wrong_address"].format(given=repr(text)))
    return text if text.endswith("/") else f"{text}/"


def _is_ours(text):
    try:
        parts = urlsplit(text)
        named = parts.hostname and parts.port != 0
    except ValueError:  # brackets that do not close, a port that is no number
        return False
    plain = text.isprintable() and " " not in text  # urlsplit itself overlooks line breaks and tabs
    return parts.scheme == "https" and named and plain and not parts.query and not parts.fragment


def qr(address):
    """A QR code of ``address`` as an SVG element, with a quarter of it spare for wet and torn paper."""
    code = segno.make(address, error="q", micro=False)
    drawn = code.svg_inline(omitsize=True, border=QUIET_ZONE, svgclass=None, lineclass=None)
    return Markup(drawn.replace("<svg ", '<svg class="qr" aria-hidden="true" ', 1))


def qr_at_terminal(address):
    """A QR code of ``address`` in half blocks, for a terminal that writes light on dark."""
    drawn = io.StringIO()
    segno.make(address, micro=False).terminal(drawn, border=QUIET_ZONE, compact=True)
    return drawn.getvalue()
