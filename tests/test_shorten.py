"""What is shortened means what it did: Pygments, which reads JavaScript by rules of its own, finds the same tokens."""

import pytest
from pygments.lexers.javascript import JavascriptLexer
from pygments.token import Comment, String
from tankfoot.site.shorten import shortened
from tankfoot.site.sources import PACKAGE, modules


def meant(script):
    """All but comments and space; the space within a text is meant."""
    tokens = JavascriptLexer().get_tokens(script)
    return [text for kind, text in tokens if kind in String or (kind not in Comment and text.strip())]


@pytest.mark.parametrize("path", [*modules(), "site/templates/sw.js"])
def test_a_script_means_the_same_in_fewer_bytes(path):
    script = (PACKAGE / path).read_text(encoding="utf-8")
    assert meant(shortened(script)) == meant(script)
    assert len(shortened(script)) < len(script)


@pytest.mark.parametrize(
    ("right", "wrong"),
    [("`a  ${b}`", "`a ${b}`"), ('f("a  b")', 'f("a b")'), ("a + +b", "a++b"), ("/a  b/.test(c)", "/a b/.test(c)")],
)
def test_a_script_that_means_something_else_would_be_seen(right, wrong):
    assert meant(right) != meant(wrong)
