"""What is shortened means what it did: Pygments, which reads JavaScript by rules of its own, finds the same tokens, and
a browser the same rules in a style sheet.
"""

import pytest
from pygments.lexers.javascript import JavascriptLexer
from pygments.token import Comment, String
from tankfoot.site.shorten import shortened, shortened_sheet
from tankfoot.site.sources import ASSETS, PACKAGE, modules

RULES = """(text) => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(text);
  return Array.from(sheet.cssRules, (rule) => rule.cssText.replaceAll(", ", ",")); // beside an env() it stays as it was
}"""


def meant(script):
    """All but comments and space; the space within a text is meant."""
    tokens = JavascriptLexer().get_tokens(script)
    return [text for kind, text in tokens if kind in String or (kind not in Comment and text.strip())]


@pytest.mark.parametrize("path", [*modules(), "site/templates/sw.js", "site/templates/lzma.js"])
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


# Source: W3C, CSS Object Model: a rule's text as the browser has read it.
@pytest.mark.parametrize("sheet", sorted(ASSETS.rglob("*.css")), ids=lambda sheet: sheet.name)
def test_a_style_sheet_has_the_same_rules_in_fewer_bytes(phone, sheet):
    page = phone.new_page()
    text = sheet.read_text(encoding="utf-8")
    rules = page.evaluate(RULES, text)
    assert len(rules) > 10
    assert page.evaluate(RULES, shortened_sheet(text)) == rules
    assert len(shortened_sheet(text)) < len(text)


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("a b { top: 0 }", "ab{top:0}"), ("a :hover { top: 0 }", "a:hover{top:0}"),
        ("a { top: calc(1px + 2em) }", "a{top:calc(1px+2em)}"), ('a { content: "b  c" }', 'a{content:"b c"}'),
    ],
)
def test_a_style_sheet_that_means_something_else_would_be_seen(phone, right, wrong):
    page = phone.new_page()
    assert page.evaluate(RULES, right) != page.evaluate(RULES, wrong)
