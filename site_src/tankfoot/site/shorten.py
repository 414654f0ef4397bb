"""JavaScript without its comments and indents: the phone keeps every byte, and reads neither.

Whole lines go or stay and nothing within a line is touched: no text, pattern or template can change what it means.
"""

import re

COMMENT = re.compile(r"^[ \t]*(/\*(?:(?!\*/).)*\*/|//[^\n]*)[ \t]*\n", re.DOTALL | re.MULTILINE)
INDENT = re.compile(r"^\s+", re.MULTILINE)


def shortened(script):
    """The same module in fewer bytes; ValueError where a template runs over a line's end: its indents are text.

    >>> shortened("/** Twice. */\\nexport function twice(x) {\\n  return 2.0 * x; // exact\\n}\\n")
    'export function twice(x) {\\nreturn 2.0 * x; // exact\\n}\\n'
    >>> shortened("/* a */ let a;\\n/* b */\\nlet b;\\n")
    '/* a */ let a;\\nlet b;\\n'
    >>> shortened("const two = `\\n  lines`;")
    Traceback (most recent call last):
        ...
    ValueError: a template runs over the end of this line: const two = `
    """
    for line in script.splitlines():
        if line.count("`") % 2:
            raise ValueError(f"a template runs over the end of this line: {line}")
    return INDENT.sub("", COMMENT.sub("", script))
