"""What hangs under a tank, and how its cap is let down: said in its form, kept, drawn, and found by the purge."""

import pytest
from browsers import PHONE
from cellar import USUAL, id_of, keep, tank, unfinished
from playwright.sync_api import expect
from tankfoot.purge.stack import typical
from tankfoot.record.bodies import MOST_IN_STACK

SIZES = ((360, 640), (390, 844))
STORED = """async ([url, id]) => {
  const { body } = await (await import(url)).take("browser/storage/record.js").get(id);
  return [body.stack, body.cap_way];
}"""


@pytest.fixture(params=SIZES, ids=str)
def page(request, chromium, served):
    width, height = request.param
    context = chromium.new_context(**PHONE | {"viewport": {"width": width, "height": height}}, service_workers="block")
    page = context.new_page()
    page.goto(served.address)
    keep(page, served, tank("FV 1"))
    open_form(page, served)
    yield page
    context.close()


def open_form(page, served, more="&open=stack"):
    page.goto("about:blank")
    page.goto(f"{served.address}tanks/tank/#id={id_of('FV 1')}{more}")
    page.locator("main[data-ready]").wait_for(state="attached")


def fold(page):
    return page.locator("[data-fold=stack]")


def drawn(page):
    """The names beside the parts of the drawing, from the tank down."""
    return page.locator("[data-plain-stack] text").all_text_contents()


def save(page):
    page.get_by_role("button", name="Save", exact=True).click()
    page.wait_for_url("**/tanks/")


def stored(page, served):
    return page.evaluate(STORED, [served.script, id_of("FV 1")])


def rows(page):
    return page.locator("[data-parts] li")


def test_nothing_is_said_of_a_tank_until_somebody_says_it(page, served):
    expect(fold(page).locator("[data-typical]")).to_have_value("")
    expect(page.locator("[data-plain-stack]")).to_be_hidden()
    save(page)
    assert stored(page, served) == [None, None]


@pytest.mark.parametrize("name", typical())
def test_a_typical_stack_is_picked_drawn_and_kept(name, page, served):
    fold(page).locator("[data-typical]").select_option(" ".join(typical()[name]))
    names = drawn(page)
    assert len(names) == len(typical()[name]) + 1
    # by hand: the clamp right under the isolation valve is the outer one
    assert names[names.index("isolation valve") + 1] == "outer clamp"
    assert ("tank-side clamp" in names) == (name != "valve-welded")
    save(page)
    assert stored(page, served)[0] == typical()[name]
    open_form(page, served)
    assert drawn(page) == names


def test_a_stack_is_put_together_part_by_part_and_drawn_again_after_a_reload(page, served):
    fold(page).locator("[data-typical]").select_option("own")
    # by hand: from clamp, isolation valve, clamp, flow valve, clamp, glass, clamp, hose to clamp, pipe, clamp,
    # isolation valve, clamp, flow valve, clamp, hose: two parts out, two in above the valve
    for _ in range(2):
        rows(page).nth(5).locator("[data-remove]").click()
    page.get_by_role("button", name="Add a part").click()
    page.get_by_role("button", name="Add a part").click()
    for place in (6, 5, 4, 3, 2):
        rows(page).nth(place).locator("[data-up]").click()
    rows(page).nth(1).locator("select").select_option("pipe")
    for place in (6, 5, 4, 3):
        rows(page).nth(place).locator("[data-up]").click()
    wanted = ["clamp", "pipe", "clamp", "butterfly", "clamp", "diaphragm", "clamp", "hose"]
    assert [rows(page).nth(place).locator("select").input_value() for place in range(8)] == wanted
    assert drawn(page) == ["tank", "tank-side clamp", "pipe", "tank-side clamp", "isolation valve", "outer clamp",
                           "flow valve", "clamp", "hose"]
    page.reload()  # half done, it comes back
    page.locator("main[data-ready]").wait_for(state="attached")
    assert len(drawn(page)) == 9
    save(page)
    assert stored(page, served)[0] == wanted
    page.reload()
    open_form(page, served)
    assert drawn(page)[:4] == ["tank", "tank-side clamp", "pipe", "tank-side clamp"]


# By hand, on what a stack must have: the isolation valve is the first valve, a clamp below it, the hose at the end.
WRONG = [
    (1, "diaphragm", "The first valve under the tank has to be the isolation valve."),
    (7, "cap", "The hose comes last, once, and there is no cap"),
    (2, "hose", "The hose comes last, once, and there is no cap"),
]


@pytest.mark.parametrize(("place", "part", "says"), WRONG)
def test_a_stack_that_cannot_be_is_refused_in_words_and_not_kept(place, part, says, page, served):
    fold(page).locator("[data-typical]").select_option(" ".join(USUAL))
    fold(page).locator("[data-parts-fold] > summary").click()
    rows(page).nth(place).locator("select").select_option(part)
    expect(fold(page).locator("[data-stack-problem]")).to_contain_text(says)
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_text("Not saved: correct what is marked above.")).to_be_visible()
    assert stored(page, served)[0] is None


def test_a_stack_without_a_clamp_below_the_valve_is_refused(page):
    fold(page).locator("[data-typical]").select_option("own")
    for place in (6, 4, 2):
        rows(page).nth(place).locator("[data-remove]").click()
    expect(fold(page).locator("[data-stack-problem]")).to_contain_text("No clamp stands below the isolation valve")


def test_no_more_parts_than_the_record_holds(page):
    fold(page).locator("[data-typical]").select_option("own")
    for _ in range(MOST_IN_STACK - len(USUAL)):
        page.get_by_role("button", name="Add a part").click()
    expect(page.get_by_role("button", name="Add a part")).to_be_disabled()
    expect(rows(page)).to_have_count(MOST_IN_STACK)


def test_the_way_to_let_the_cap_down_is_kept_and_can_be_taken_back(page, served):
    page.locator("[data-fold=cap-way] > summary").click()
    page.locator("[data-cap-way]").fill("Bleed cap: a quarter turn, wait for quiet.")
    save(page)
    assert stored(page, served)[1] == "Bleed cap: a quarter turn, wait for quiet."
    open_form(page, served, "&open=cap-way")
    expect(page.locator("[data-cap-way]")).to_be_visible()
    page.locator("[data-cap-way]").fill("  ")
    save(page)
    assert stored(page, served)[1] is None


def test_from_the_purge_a_link_leads_to_the_part_of_the_form_that_is_missing_and_back_to_the_purge(page, served):
    names = ["begin", "all-there", "across"]
    keep(page, served, unfinished("FV 1", "cap-clamp", names, at=page.evaluate("new Date().toISOString()")))
    page.goto("about:blank")
    page.goto(f"{served.address}purge/#tank={id_of('FV 1')}")
    page.locator("[data-stack-link]:visible").first.click()
    page.locator("main[data-ready]").wait_for(state="attached")
    expect(fold(page).locator("[data-typical]")).to_be_visible()
    fold(page).locator("[data-typical]").select_option(" ".join(typical()["elbow"]))
    page.get_by_role("button", name="Save", exact=True).click()
    page.wait_for_url("**/purge/#go-on=*")
    expect(page.locator("[data-step=cap-clamp] [data-own-stack]")).to_be_visible()
    # by hand: under a tank at rest hang the tank-side clamp and the outer one, which holds the cap
    expect(page.locator("[data-step=cap-clamp] button.clamp")).to_have_count(2)


def test_the_form_is_no_longer_than_three_lines_more_and_fits_the_screen(page, served):
    open_form(page, served, "")
    page.locator("[data-numbers] > summary").click()
    for name in ("stack", "cap-way"):
        closed = page.locator(f"[data-fold={name}]").bounding_box()
        # one line to open it, a glove's target high (common practice, no source: 56 px)
        assert 56 <= closed["height"] <= 64
    for each in page.locator("details").all():
        each.evaluate("each => { each.open = true; }")
    fold(page).locator("[data-typical]").select_option("own")
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]
    for button in page.locator("[data-parts] button, [data-parts] select").all():
        assert button.bounding_box()["height"] >= 56 and button.bounding_box()["width"] >= 56
