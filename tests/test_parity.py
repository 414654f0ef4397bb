"""Python and the browser give the same answers, to the character."""

import math
import time
from collections import Counter

import pytest
from cases import cases
from parity import compare, iterates, reckoned
from tankfoot.calculators import calculators
from tankfoot.site.sources import PACKAGE
from tankfoot.wording import words

CODES_OF_EVERY_FORM = {
    "empty", "too-long", "not-a-number", "not-finite", "ambiguous-number", "unknown-unit", "wrong-dimension",
    "bad-uncertainty", "too-low", "too-high", "unknown-field",
}
ENOUGH_FOR_EVERY_CODE = 3000


@pytest.fixture(scope="module")
def evaluate(chromium, served):
    """Runs JavaScript in a page of the frozen site."""
    page = chromium.new_page(service_workers="block")
    page.goto(served.address)
    yield page.evaluate
    page.close()


@pytest.mark.parametrize("id", calculators())
def test_every_calculator_answers_alike_in_both_languages(id, evaluate, served, pytestconfig, tell):
    calculator, count = calculators()[id], pytestconfig.getoption("parity_cases")
    started = time.perf_counter()
    differences = compare(evaluate, served.address, calculator, cases(calculator, count))
    tell(f"parity of {id}: {count} cases in {time.perf_counter() - started:.1f} s")
    assert not differences, f"{len(differences)} differences, such as {differences[:3]}"


@pytest.mark.parametrize("id", calculators())
def test_the_cases_reach_results_and_every_refusal(id):
    calculator = calculators()[id]
    reached = Counter()
    for case in cases(calculator, ENOUGH_FOR_EVERY_CODE):
        outcome = reckoned(calculator, case)
        reached.update({code for _, code, _ in outcome["problems"]} or {"results"})
    assert reached["results"] > ENOUGH_FOR_EVERY_CODE / 10
    nothing_required = not any(field.required for field in calculator.fields.values())
    unreachable = {"empty"} if nothing_required else set()
    assert CODES_OF_EVERY_FORM | set(words(id).get("refusals", {})) <= set(reached) | unreachable


def test_the_same_cases_come_every_time():
    calculator = calculators()["purge-volume"]
    assert cases(calculator, 50) == cases(calculator, 50)


def test_only_sums_with_a_root_in_them_get_the_wider_tolerance():
    # Source: the strength of a mixture has no closed inverse; the gas law has one.
    assert iterates(calculators()["alcohol-dilution"].module)
    assert not iterates(calculators()["purge-volume"].module)


# A twin wrong in one number or one word: file, right, wrong, calculator, what the harness must speak of.
WRONG_TWINS = {
    "a value": ("physics/gas.js", "12.0408", "12.0409", "purge-volume", "value"),
    "the last digits of a value": ("physics/gas.js", "0.0440095", "0.0440095000002", "co2-top-up", "value"),
    "a give-or-take": ("quantities/propagate.js", "square)", "square * 1.01)", "purge-volume", "uncertainty"),
    "a text": ("quantities/format.js", "LARGE = 9", "LARGE = 3", "open-port", "text"),
    "a code": ("quantities/text.js", "[0-9]{3}$/", "[0-9]{2}$/", "purge-volume", "problems"),
    "a refusal": ("calculators/purge_volume.js", "after >= x", "after > x", "purge-volume", "problems"),
    "a sentence": ("calculators/reckon.js", "low, field.high]", "low, field.low]", "open-port", "problems"),
    "a remark": ("calculators/alcohol_dilution.js", ">= 0.6", ">= 0.61", "alcohol-dilution", "remarks"),
    "a throw": ("calculators/air_pressure.js", "return", "throw new Error();", "air-pressure", "raised"),
}


@pytest.mark.parametrize("twin", WRONG_TWINS.values(), ids=WRONG_TWINS)
def test_a_wrong_twin_is_found_out(twin, chromium, site, served):
    path, right, wrong, id, part = twin
    assert right in (PACKAGE / path).read_text(encoding="utf-8")
    texts = {file.name: file.read_text(encoding="utf-8") for file in (site / "js").glob("*.js")}
    (name,) = (name for name, text in texts.items() if f'"{path}":(' in text)
    before, module, after = texts[name].partition(f'"{path}":(')
    shortened = right.replace(" ", "")
    assert shortened in after
    body = before + module + after.replace(shortened, wrong, 1)
    page = chromium.new_page(service_workers="block")
    page.route(f"**/js/{name}", lambda route: route.fulfill(body=body, content_type="text/javascript"))
    page.goto(served.address)
    differences = compare(page.evaluate, served.address, calculators()[id], cases(calculators()[id], 500))
    page.close()
    assert any(part in difference for _, difference in differences)


def test_no_case_has_a_number_that_is_not_one():
    for calculator in calculators().values():
        for case in cases(calculator, 200):
            values = [r["value"] for r in reckoned(calculator, case)["results"].values() if r]
            assert all(map(math.isfinite, values)), (calculator.id, case)
