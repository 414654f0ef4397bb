"""The site does not grow unseen. The aims are 200 kB in all and 70 kB of JavaScript; neither is reached."""

import pytest
from budgets import kilobytes

# kB, each file gzipped: what the site weighs today and a little room; the project's own figures, no source
CEILINGS = {"*": 330, "*.js": 86}


@pytest.mark.parametrize(("kind", "ceiling"), CEILINGS.items())
def test_the_site_weighs_no_more_than_it_did(site, kind, ceiling, tell):
    weight = kilobytes([path for path in site.rglob(kind) if path.is_file()])
    tell(f"{kind}, each file gzipped: {weight:.0f} kB (ceiling {ceiling})")
    assert weight <= ceiling
