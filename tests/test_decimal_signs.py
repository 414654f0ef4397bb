"""Comma or point: a page's table says what the browser's own Intl says, for each region that CLDR names."""

import pytest
from babel import localedata
from speakers import show, speaker
from tankfoot.wording.languages import languages

SIGN = "(locale) => new Intl.NumberFormat(locale).format(0.5)[1]"
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
        at.context.close()
    assert {sign for _, sign in signs.values()} == {",", "."}
    assert {tag: both for tag, both in signs.items() if both[0] != both[1]} == {}
