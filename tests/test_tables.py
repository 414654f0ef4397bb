"""A page is sent the tables of the sums that it works out, beside those that a purge reads, and no others."""

import pytest
from tankfoot.calculators import calculators
from tankfoot.purge.machine import sums
from tankfoot.site.declared import declared_js
from tankfoot.site.joined import imported
from tankfoot.site.tables import with_tables

KEPT = """async (base) => {
  const { take } = await import(base);
  return [take("calculators/declared.js").calculators, take("wording/declared.js").calculatorWords].map(Object.keys);
}"""
READ = {like.split(".")[0] for like in sums()["readings"].values()}
OF_A_PURGE = READ | {row["calculator"] for row in sums()["sums"].values()}
EMPTY = {"calculators/declared.js": declared_js("calculators"), "wording/declared.js": declared_js("wording")}


@pytest.mark.parametrize("id", calculators())
def test_a_sum_has_its_own_tables_and_a_purges(phone, served, id):
    page = phone.new_page()
    page.goto(f"{served.address}calculators/{id}/")
    page.locator("[data-calculator][data-ready]").wait_for()
    fields, words = page.evaluate(KEPT, f"{served.address}js/base.js")
    assert fields == words
    assert {id} <= set(fields) <= OF_A_PURGE | {id}
    assert len(OF_A_PURGE) < len(calculators()) / 2


@pytest.mark.parametrize(
    ("path", "text", "tables"),
    [
        ("browser/a/one.js", 'words("record.lost");', ["wording/screens/record.js"]),
        ("browser/a/one.js", 'const { usual } = of["leak-down"];', ["calculators/sums/leak-down.js"]),
        ("calculators/cell_count.js", "", ["calculators/sums/cell-count.js"]),
        ("calculators/tank.js", "", ["calculators/sums/tank.js"]),
        ("record/other.js", 'if (kind === "tank") return;', []),
    ],
)
def test_a_module_imports_the_tables_that_it_names(path, text, tables):
    made = with_tables(EMPTY | {path: text})
    assert imported(path, made[path]) == tables
    assert set(tables) <= set(made)
