"""A twin with one number or operator wrong is found out."""

import shutil

import pytest
from engines import Node, Page
from mutants import checks, excuses, hunt, is_found, texts
from mutations import mutants
from twins import twins

# What once passed every test there was: file, right, wrong.
ONCE_UNSEEN = {
    "a radius a fifth too small": ("physics/vessel.js", "0.5 * diameter * level", "0.4 * diameter * level"),
    "a cone a tenth too full": ("physics/vessel.js", "part * part * part", "1.1 * part * part * part"),
    "a table that ends too soon": ("physics/interpolation.js", "xs.length - 2", "xs.length - 3"),
}
SAMPLED = [path for path, twin in twins().items() if twin.module and path.startswith(("physics/", "quantities/"))]
CASES = 200


@pytest.fixture(scope="module")
def engine(chromium):
    page = Page(chromium)
    yield page
    page.close()


@pytest.mark.parametrize(("path", "right", "wrong"), ONCE_UNSEEN.values(), ids=ONCE_UNSEEN)
def test_what_once_passed_every_test_is_found(path, right, wrong, engine):
    text = texts()[path]
    assert right in text
    assert is_found(engine.evaluate, path, text.replace(right, wrong, 1), checks(path, CASES))


@pytest.mark.parametrize("path", SAMPLED)
def test_a_sample_of_mutants_is_found(path, engine):
    assert hunt(engine.evaluate, path, 2, checks(path, CASES)).survivors == []


def test_the_right_text_is_not_found_wrong(engine):
    for path in ("physics/vessel.js", "quantities/text.js"):
        assert not is_found(engine.evaluate, path, texts()[path], checks(path, CASES)), path


def test_what_cannot_even_be_loaded_counts_as_found(engine):
    path = "physics/gas.js"
    assert is_found(engine.evaluate, path, texts()[path] + "let let;", checks(path, CASES))


@pytest.mark.skipif(not shutil.which("node"), reason="Node is not installed: the browser alone does it")
def test_node_does_what_the_browser_does():
    path = "physics/gas.js"
    node = Node(shutil.which("node"))
    found = [is_found(node.evaluate, path, text, checks(path, CASES)) for text in (
        texts()[path], texts()[path].replace("12.0408", "12.0409"), texts()[path] + "let let;",
    )]
    node.close()
    assert found == [False, True, True]


def test_every_excused_line_is_one_that_a_mutant_writes():
    made = {(path, mutant.line) for path, text in texts().items() if path in twins() for mutant in mutants(text)}
    assert set(excuses()) <= made
    assert all(excuses().values())
