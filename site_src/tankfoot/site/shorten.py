"""Scripts and style sheets in fewer bytes: the phone keeps each of them, and reads neither comments nor spaces."""

from rcssmin import cssmin
from rjsmin import jsmin


def shortened(script):
    """The same script without comments and spare spaces. Names and all else stay, so that an error still says where.

    ValueError where a template stands within another or runs over a line's end: what is a text there and what is not
    would be guessed.

    >>> shortened("/** Twice. */\\nexport function twice(x) {\\n  return 2.0 * x; // exact\\n}\\n")
    'export function twice(x){return 2.0*x;}'
    >>> shortened("says = `${one} and  ${other}`;")
    'says=`${one} and  ${other}`;'
    >>> shortened("const two = `${a.map((x) => `${x}  m`)}`;")
    Traceback (most recent call last):
        ...
    ValueError: a template within a template: const two = `${a.map((x) => `${x}  m`)}`;
    >>> shortened("const two = `\\n  lines`;")
    Traceback (most recent call last):
        ...
    ValueError: a template runs over the end of this line: const two = `
    """
    for line in script.splitlines():
        texts = line.split("`")[1::2]
        if line.count("`") % 2:
            raise ValueError(f"a template runs over the end of this line: {line}")
        if any(text.rfind("${") > text.rfind("}") for text in texts):
            raise ValueError(f"a template within a template: {line}")
    return jsmin(script)


def shortened_sheet(sheet):
    """The same style sheet without comments and spare spaces.

    >>> shortened_sheet("/* A line. */\\nnav > a { margin: 0 auto; width: calc(1px + 2em); }\\n")
    'nav>a{margin:0 auto;width:calc(1px + 2em)}'
    """
    return cssmin(sheet)
