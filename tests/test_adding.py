"""The contributor's page keeps its word: three files in their places are a whole sum."""

import json
import math
import shutil
import sys
from pathlib import Path

import pytest
from package_copy import PackageCopy

HERE = Path(__file__).parent
ROOT = HERE.parent
PLACES = {"hose_volume.py": "calculators", "hose_volume.js": "calculators", "hose-volume.toml": "wording/en"}


@pytest.fixture(scope="module")
def package(tmp_path_factory):
    package = PackageCopy(tmp_path_factory.mktemp("with_a_sum"))
    for name, place in PLACES.items():
        shutil.copy(HERE / "fixtures" / "sum" / name, package.package / place)
    return package


def test_a_new_sum_has_its_page_and_stands_on_the_index(package):
    built = package.tankfoot("build", "--output", package.folder / "site")
    assert (built.returncode, built.stderr) == (0, "")
    pages = package.folder / "site" / "calculators"
    assert 'href="hose-volume/"' in (pages / "index.html").read_text(encoding="utf-8")
    assert "How much is in the hose?" in (pages / "hose-volume" / "index.html").read_text(encoding="utf-8")


def test_a_new_sum_is_one_of_the_commands(package):
    listed = json.loads(package.tankfoot("list", "--json").stdout)["calculators"]
    assert "hose-volume" in [calculator["id"] for calculator in listed]
    reckoned = package.tankfoot("reckon", "hose-volume", "bore=2 in", "length=10 m", "--units", "metric", "--json")
    # Source: the volume of a cylinder; an inch is 25.4 mm (NIST SP 811, appendix B)
    volume = json.loads(reckoned.stdout)["results"]["volume"]
    assert (volume["unit"], volume["value"]) == ("liter", pytest.approx(math.pi / 4 * 0.508**2 * 100, rel=1e-9))


def test_a_new_sum_is_told_in_the_methods(package):
    told = package.run(sys.executable, "-m", "tankfoot.site.methods", ROOT / "demo" / "sums.toml")
    assert "volume = π ÷ 4 × bore² × length × filled" in told.stdout


def test_a_new_sum_is_held_to_its_twin_by_the_tests_that_there_are(package):
    run = package.run(
        sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "--rootdir", ROOT, "-c", ROOT / "pyproject.toml",
        "-n", "0", HERE / "test_parity.py", HERE / "test_short_form.py", "-k", "hose-volume", "--parity-cases", "200",
    )
    assert run.returncode == 0, run.stdout
    assert "parity of hose-volume: 200 cases" in run.stdout
