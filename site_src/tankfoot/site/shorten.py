"""JavaScript without its comments and blanks: the phone keeps every byte, and reads no comment."""

from importlib.util import find_spec

MINIFIER = "minify"  # tdewolff-minify; not to be had for every machine, and the site is right without it


def shortened(script):
    """The same module in fewer bytes, or as it was where the minifier is not installed.

    >>> shortened("/** Twice. */\\nexport const twice = (x) => 2.0 * x;\\n") in (
    ...     "export const twice=e=>2*e", "/** Twice. */\\nexport const twice = (x) => 2.0 * x;\\n")
    True
    """
    if find_spec(MINIFIER) is None:
        return script
    import minify

    return minify.string("application/javascript", script)
