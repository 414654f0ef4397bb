"""Comma or point, and which digits: a page's table says what the browser's own Intl says, for each region of CLDR."""

import pytest
from babel import localedata
from speakers import show, speaker
from tankfoot.wording.languages import languages

SIGN = "(locale) => new Intl.NumberFormat(locale).format(0.5)[1]"
SMALL = "(locale) => Array.from({ length: 1000 }, (_, i) => new Intl.NumberFormat(locale).format(i))"
LOCAL = """async (script) => {
  const { take } = await import(script);
  return take("quantities/locale.js").local("0.5")[1];
}"""


@pytest.mark.parametrize("language", languages())
def test_a_number_has_the_sign_that_the_browser_gives_it(chromium, served, language):
    names = [name for name in localedata.locale_identifiers() if name.split("_")[0] == language]
    assert len(names) > 20
    signs = {}
    for tag in (name.replace("_", "-") for name in names):
        at = speaker(chromium, served, tag)
        page = show(at, "about/")
        signs[tag] = page.evaluate(LOCAL, at.site.script), page.evaluate(SIGN, tag)
        assert page.evaluate(SMALL, tag) == [str(number) for number in range(1000)], tag
        at.context.close()
    assert {sign for _, sign in signs.values()} == {",", "."}
    assert {tag: both for tag, both in signs.items() if both[0] != both[1]} == {}
