"""The shortened JavaScript says what the long one said."""

import re
from importlib.resources import files
from pathlib import Path

PACKAGE = Path(str(files("tankfoot")))
# What opens or closes something in JavaScript, comments and strings as a whole.
TOKENS = re.compile(r"""//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|\\.|`|\$\{|[{}]""", re.DOTALL)


def templates_within_templates(script):
    """Where a template text opens inside a ${} of another: the shortener takes blanks out of the inner one."""
    open_ones = []
    for token in TOKENS.finditer(script):
        within = open_ones[-1:] == ["`"]
        if token[0] == "`" and within:
            open_ones.pop()
        elif token[0] == "`":
            if "`" in open_ones:
                yield script.count("\n", 0, token.start()) + 1
            open_ones.append("`")
        elif token[0] == "${" or (token[0] == "{" and not within):
            open_ones.append("{")
        elif token[0] == "}" and not within:
            open_ones.pop()


def test_a_template_within_a_template_is_found():
    assert list(templates_within_templates("a = `x ${f({ b }, `${c} d`)}`;\nb = `{ ${c} }`;")) == [1]


def test_no_template_stands_within_another():
    for path in PACKAGE.rglob("*.js"):
        assert list(templates_within_templates(path.read_text(encoding="utf-8"))) == [], path
