"""The square code on a printed sheet that opens its page on a phone."""

from urllib.parse import urlsplit

import segno
from markupsafe import Markup

from tankfoot.wording import words

QUIET_ZONE = 4  # modules of blank paper around it: ISO/IEC 18004


class AddressError(Exception):
    """An address of the site that no phone could open from a sheet: what is wrong, what to give."""


def site_root(text):
    """The address of the site as it stands before each path, with a slash at its end; AddressError otherwise.

    >>> site_root("https://cellar.example/tankfoot")
    'https://cellar.example/tankfoot/'
    """
    parts = urlsplit(text)
    if parts.scheme != "https" or not parts.hostname or parts.query or parts.fragment or " " in text:
        raise AddressError(words("command")["print"]["wrong_address"].format(given=repr(text)))
    return text if text.endswith("/") else f"{text}/"


def qr(address):
    """A QR code of ``address`` as an SVG element, with a quarter of it spare for wet and torn paper."""
    code = segno.make(address, error="q", micro=False)
    drawn = code.svg_inline(omitsize=True, border=QUIET_ZONE, svgclass=None, lineclass=None)
    return Markup(drawn.replace("<svg ", '<svg class="qr" aria-hidden="true" ', 1))
