"""The methods page is the one that the declarations make."""

from pathlib import Path

from tankfoot.site.methods import methods

PAGE = Path(__file__).parent.parent / "docs" / "methods.md"


def test_the_methods_page_is_current():
    assert PAGE.read_text(encoding="utf-8") == methods(), "python -m tankfoot.site.methods > docs/methods.md"
