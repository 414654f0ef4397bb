"""The methods page is the one that the declarations make, worked with the numbers of the invented brewery."""

import re
import runpy
import shlex
import tomllib
from pathlib import Path

import pytest
from tankfoot.calculators import calculators
from tankfoot.quantities.text import read_quantity
from tankfoot.site.methods import methods

ROOT = Path(__file__).parent.parent
PAGE = ROOT / "docs" / "methods.md"
NUMBERS = tomllib.loads((ROOT / "demo" / "sums.toml").read_text(encoding="utf-8"))
TANK = "Sample 3"  # the tank that sums.toml speaks of


def test_the_methods_page_is_current():
    told = "python -m tankfoot.site.methods demo/sums.toml > docs/methods.md"
    assert PAGE.read_text(encoding="utf-8") == methods(NUMBERS), told


def test_the_numbers_are_for_sums_and_fields_that_there_are():
    assert set(NUMBERS) <= set(calculators())
    for id, texts in NUMBERS.items():
        assert set(texts) <= set(calculators()[id].fields), id


def test_a_sum_that_the_numbers_do_not_answer_stops_the_page():
    with pytest.raises(ValueError, match="purge-volume"):
        methods({**NUMBERS, "purge-volume": {"headspace": "3 bbl"}})


def test_the_readmes_example_is_the_invented_brewerys():
    command = re.search(r"tankfoot reckon purge-volume (.*)", (ROOT / "README.md").read_text(encoding="utf-8"))
    assert dict(pair.split("=") for pair in shlex.split(command.group(1))) == NUMBERS["purge-volume"]


def test_the_tank_of_the_sums_is_one_of_the_record(monkeypatch):
    monkeypatch.syspath_prepend(ROOT / "demo")  # as a script has it
    rows = runpy.run_path(str(ROOT / "demo" / "make.py"))["TANKS"]
    name, diameter, straight, depth, angle, bore, hold, rated, *_ = next(row for row in rows if row[0] == TANK)
    units = ("m", "m", "m", "°", "mm", "psi", "psi")
    fields = ("diameter", "straight_height", "head_depth", "cone_angle", "bore", "hold_pressure", "rated_pressure")
    declared = calculators()["tank"].fields
    for field, value, unit in zip(fields, (diameter, straight, depth, angle, bore, hold, rated), units, strict=True):
        kind = declared[field].kind
        said = read_quantity(NUMBERS["tank"][field], kind, unit).si
        assert said == pytest.approx(read_quantity(f"{value} {unit}", kind, unit).si, rel=1e-12), field
