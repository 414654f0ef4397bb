"""The curves beside the sums: the same from the build and in the browser, right at places known from elsewhere."""

import json
import re
from dataclasses import asdict
from types import SimpleNamespace

import pytest
from browsers import PHONE
from cases import cases
from tankfoot.calculators import calculators
from tankfoot.calculators.plot import caption, figure
from tankfoot.calculators.reckon import reckon
from tankfoot.quantities.units import offered
from tankfoot.site.plots import page_plot
from tankfoot.wording import words

PLOTTED = [id for id, calculator in calculators().items() if hasattr(calculator.module, "PLOT")]
CASES = 150
SMALL = {**PHONE, "viewport": {"width": 360, "height": 640}, "service_workers": "block"}
READABLE = 14  # px, on the screen
DRAW_IN_BROWSER = """async (given) => {
  const { root, id, calls, words } = JSON.parse(given);
  const { caption, figure } = (await import(`${root}js/tankfoot.js`)).take("calculators/plot.js");
  const { calculatorModule } = (await import(`${root}js/tankfoot.js`)).take("calculators/reckon.js");
  const twin = await calculatorModule(id);
  return JSON.stringify(calls.map(([plot, ...rest]) => {
    const made = figure(plot, twin, ...rest);
    return made && { ...made, caption: caption(made, ...words) };
  }));
}"""


@pytest.fixture(scope="module")
def page(chromium, served):
    context = chromium.new_context(**SMALL)
    page = context.new_page()
    page.goto(served.address)
    yield page
    context.close()


def drawable(id, count):
    """(plot, inputs, results, symbols) of the generated cases that have an answer."""
    calculator = calculators()[id]
    for case in cases(calculator, count):
        outcome = reckon(calculator, case.texts, case.system)
        if not outcome.problems:
            declared = page_plot(calculator, outcome, case.system)["declared"]
            yield (
                calculator.module.PLOT,
                {name: reading and reading.si for name, reading in outcome.inputs.items()},
                {name: result and result.value for name, result in outcome.results.items()},
                {axis: offered(kind, case.system)[0] for axis, kind in declared["kinds"].items()},
            )


@pytest.mark.parametrize("id", PLOTTED)
def test_a_curve_is_the_same_in_both_languages_to_the_character(id, page, served):
    calls, said = list(drawable(id, CASES)), (words(id)["plot"], words("app")["plot"]["dashed"])
    ours = [figure(plot, calculators()[id].module, *rest) for plot, *rest in calls]
    ours = [made and {**made, "caption": caption(made, *said)} for made in ours]
    given = {"root": served.address, "id": id, "words": said, "calls": [[asdict(plot), *rest] for plot, *rest in calls]}
    assert json.loads(page.evaluate(DRAW_IN_BROWSER, json.dumps(given))) == json.loads(json.dumps(ours))
    assert sum(made is not None for made in ours) > 0.9 * len(ours) > 30


def svg_of(text):
    return re.search(r"<svg viewBox=\"0 0 328 .*?</svg>", text.replace("\n", "")).group()


@pytest.mark.parametrize("id", PLOTTED)
def test_the_built_page_has_the_curve_that_the_browser_draws_again(id, page, served, site):
    built = (site / "calculators" / id / "index.html").read_text(encoding="utf-8")
    page.goto(f"{served.address}calculators/{id}/")
    page.wait_for_selector("[data-ready]")
    assert page.locator(".plot svg").evaluate("svg => svg.outerHTML") == svg_of(built)
    assert page.locator(".plot figcaption").inner_text() in built


# Inputs at which the labels are the longest or the marks many.
FULL = {
    "equilibrium-carbonation": "pressure=40 psi", "hold-pressure": "carbonation=2.9 vol&rated_pressure=16 psi",
    "room-co2": "released_mass=900 kg", "pressure-settling": "carbonation_now=0.5 vol",
    "vacuum-margin": "headspace=1800 bbl",
}


@pytest.mark.parametrize("id", PLOTTED)
def test_every_text_of_a_curve_is_readable_and_inside_its_drawing(id, page, served):
    page.goto("about:blank")
    page.goto(f"{served.address}calculators/{id}/#{FULL[id]}")
    page.wait_for_selector("[data-ready]")
    texts = page.locator(".plot svg").evaluate(
        """(svg) => [...svg.querySelectorAll("text")].map((text) => {
          const [box, room] = [text.getBoundingClientRect(), svg.parentElement.getBoundingClientRect()];
          const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
          const size = parseFloat(getComputedStyle(text).fontSize) * scale;
          const inside = box.left >= room.left && box.right <= room.right && box.top >= room.top;
          return { said: text.textContent, size, inside: inside && box.bottom <= room.bottom };
        })"""
    )
    assert len(texts) >= 6
    assert [text for text in texts if text["size"] < READABLE or not text["inside"]] == []


@pytest.mark.parametrize("id", PLOTTED)
def test_every_line_of_a_curve_lies_inside_its_drawing(id, page, served):
    page.goto("about:blank")
    page.goto(f"{served.address}calculators/{id}/#{FULL[id]}")
    page.wait_for_selector("[data-ready]")
    outside = page.locator(".plot svg").evaluate(
        """(svg) => {
          const room = svg.getBoundingClientRect();
          return [...svg.querySelectorAll("path, circle")].filter((line) => {
            const box = line.getBoundingClientRect();
            return box.left < room.left || box.right > room.right || box.top < room.top || box.bottom > room.bottom;
          }).map((line) => line.outerHTML);
        }"""
    )
    assert outside == []


def test_who_cannot_see_a_curve_is_told_it_and_a_refused_sum_has_none(page, served):
    page.goto(f"{served.address}calculators/vacuum-margin/")
    page.wait_for_selector("[data-ready]")
    picture = page.get_by_role("img", name=re.compile("The gauge falls from 10.0 psi"))
    assert picture.is_visible()
    page.locator("#vacuum-margin-pressure_before").fill("0")
    assert page.locator(".plot").is_hidden()


def curve(id, at, **inputs):
    return calculators()[id].module.curve(SimpleNamespace(**inputs), at)


def test_the_gauge_falls_by_boyles_law_but_for_what_co2_is_not_ideal():
    # Source: Boyle's law, p V constant; CO2 at these pressures departs from it by less than 1 %.
    given = {"headspace": 1.0, "pressure_before": 70000.0, "air_pressure": 101325.0, "temperature": 275.15}
    for drawn in (0.1, 0.3, 0.6):
        left = curve("vacuum-margin", drawn, **given) + 101325.0
        assert left == pytest.approx(171325.0 / (1.0 + drawn), rel=0.01)


def test_the_air_clears_by_a_factor_e_in_each_change():
    # Source: ASHRAE Handbook, Fundamentals, dilution of a mixed room: excess falls as exp(-n t) (from memory).
    given = {
        "released_mass": 5.0, "release_rate": None, "release_time": 0.0, "room_volume": 150.0,
        "air_changes": 1.0 / 3600.0, "temperature": 283.15, "air_pressure": 101325.0, "outdoor_co2": 420e-6,
    }
    excess = [curve("room-co2", hours * 3600.0, **given) - 420e-6 for hours in (0.0, 1.0, 2.0)]
    assert excess[0] / excess[1] == pytest.approx(2.718281828, rel=1e-9)
    assert excess[1] / excess[2] == pytest.approx(2.718281828, rel=1e-9)


def test_the_curve_of_the_hold_pressure_goes_through_the_printed_chart():
    # Source: the trade's printed carbonation chart (from memory): 32 °F and 10 psi 2.7 vol, 40 °F and 10 psi 2.3 vol.
    for kelvin, volumes in ((273.15, 2.7), (277.594, 2.3)):
        given = {"air_pressure": 101325.0, "temperature": kelvin, "beer_factor": 0.955}
        assert curve("hold-pressure", 68947.57, **given) / 1.9768 == pytest.approx(volumes, rel=0.03)
