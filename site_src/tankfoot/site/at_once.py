"""Scripts that run before a page is drawn. They stand in the page itself: to ask for one more file would hold up all
that comes after it, on a slow line longer than anything else.
"""

import base64
import hashlib
from functools import cache

from markupsafe import Markup

from tankfoot.site.shorten import shortened
from tankfoot.site.sources import PACKAGE

AT_ONCE = ("browser/parts/before_drawn.js", "browser/storage/thread_at_once.js")  # scripts, no modules


@cache
def at_once(path):
    """The script at ``path`` in the package as the text of an element."""
    return Markup(shortened((PACKAGE / path).read_text(encoding="utf-8")))


def allowed(path):
    """What a page's policy says to run that one too. Source: W3C, Content Security Policy 3, 2.3.1.

    >>> allowed("browser/parts/before_drawn.js")[:8]
    Markup("'sha256-")
    """
    digest = hashlib.sha256(at_once(path).encode()).digest()
    return Markup(f"'sha256-{base64.b64encode(digest).decode()}'")
