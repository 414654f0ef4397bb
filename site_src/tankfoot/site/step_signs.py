"""The small drawings beside the titles of the purge's steps, and which step has which: ``steps.toml`` beside them."""

import tomllib
from functools import cache

from tankfoot.purge.machine import LATEST, tables
from tankfoot.site.sources import PACKAGE

PICTURES = PACKAGE / "site" / "templates" / "pictures"
TABLE = PICTURES / "steps.toml"


@cache
def step_signs():
    """{state: name of its sign}; a state that is not in it has none."""
    return tomllib.loads(TABLE.read_text(encoding="utf-8"))


def step_sign_faults():
    """One sentence for each row that names no step of the purge, a gate, or a drawing that is not there."""
    steps = tables()[LATEST]
    for state, name in step_signs().items():
        row = f"site/templates/pictures/{TABLE.name}: the sign of {state!r}"
        if state not in steps:
            yield f"{row} stands beside no step of the purge: name one of purge/tables/{LATEST}.toml."
        elif steps[state].gate:
            yield f"{row} would answer what a gate asks: take the row out."
        elif not (PICTURES / f"step-{name}.svg").is_file():
            yield f"{row} is not there: draw site/templates/pictures/step-{name}.svg."
