"""A language that nobody speaks, 40 % longer: on no screen is anything cut, and nothing on it is in English."""

import json
from html.parser import HTMLParser

import cellar
import hand
import pytest
from browsers import PHONE, Served
from frozen import VOID, one_page_of_each_kind, pages
from looked_at import CUT, TEXTS
from pseudo import BEGINS, NAME, PseudoPackage, foreign, pseudo
from tankfoot.purge.machine import LAST, LATEST
from tankfoot.wording import said
from tankfoot.wording.languages import FIRST, languages
from test_accessibility import SCREENS_ARE_UP
from test_layout_shifts import LOAD
from test_purge_table import shortest
from test_second_taps import STEPS, Phone
from test_words import SPOKEN
from workers import made_once, shared_folder

# The narrowest phones in use, and the light that each is looked at in.
LIGHTS = {320: "light", 360: "dark"}
HIGH = 640
TYPED = {"cap_way", "name", "tank_name", "notes", "note", "reason", "beer", "left_out", "initials", "by", "lifted_by"}
ENGLISH = f"emergency/{FIRST}/"  # cards that are kept in English beside the others, whole
OPEN = """() => {
  for (const fold of document.querySelectorAll("details")) if (!fold.closest("[data-step][hidden]")) fold.open = true;
}"""
# The width that each test looks at by default, where that is not the narrower one: between them both are seen.
WIDER = {"test_a_hand_walks_the_whole_purge_and_sees_nothing_cut_and_nothing_in_english",
         "test_a_round_and_the_walk_along_the_gauges_are_whole_too"}


def pytest_generate_tests(metafunc):
    if "narrow" in metafunc.fixturenames:
        one = max(LIGHTS) if metafunc.function.__name__ in WIDER else min(LIGHTS)
        widths = LIGHTS if metafunc.config.getoption("all_screens") else [one]
        metafunc.parametrize("narrow", widths, indirect=True, ids=lambda width: f"{width} px")


@pytest.fixture(scope="module")
def site(tmp_path_factory, pytestconfig):
    """The folder of its frozen site."""
    def make(folder):
        PseudoPackage(tmp_path_factory.mktemp("pseudo")).freeze(folder)

    return made_once(shared_folder(tmp_path_factory, pytestconfig) / "pseudo" / "tankfoot", make)


@pytest.fixture(scope="module")
def served(site):
    server = Served(site)
    yield server
    server.stop()


@pytest.fixture(scope="module")
def demo(site):
    return json.loads((site / "assets" / "demo" / "record.json").read_text(encoding="utf-8"))["entries"]


@pytest.fixture(scope="module")
def names(demo):
    """What a person typed, into the invented brewery or a test's cellar; what languages are called in themselves."""
    tongues = {said("language", language)["name"] for language in languages()}
    return typed({"all": demo}) | tongues | {"FV 1", "FV 2", "FV 3", "Bleed cap.", "AB", "{eyewash}"}


def typed(data):
    found = set()
    for key, inner in data.items():
        for one in inner if isinstance(inner, list) else [inner]:
            if isinstance(one, dict):
                found |= typed(one)
            elif isinstance(one, str) and key in TYPED and one:
                found.add(one)
    return found


@pytest.fixture
def narrow(request, chromium, served):
    """A phone so wide; all that is seen and said there is collected in ``looked``."""
    size = {"width": request.param, "height": HIGH}
    context = chromium.new_context(
        **PHONE | {"viewport": size}, is_mobile=True, locale="th-TH", color_scheme=LIGHTS[request.param],
        service_workers="block",
    )
    context.looked, context.size = {}, size
    yield context
    context.close()


class Seen(HTMLParser):
    """What a page says, and what is heard of it."""

    def __init__(self, html):
        super().__init__()
        self.said, self._silent = [], 0
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        self._silent += tag in ("script", "style")
        self.said += [value for name, value in attrs if name in SPOKEN]
        self.said += [given["content"]] if given.get("name") == "description" else []

    def handle_endtag(self, tag):
        self._silent -= tag in ("script", "style")

    def handle_data(self, data):
        self.said += [] if self._silent else [data.strip()]


def test_nothing_is_in_english_in_any_file_of_the_site(site, names, tell):
    assert not VOID & {"script", "style"}
    said_by = {
        path.relative_to(site).as_posix(): Seen(path.read_text(encoding="utf-8")).said for path in site.rglob("*.html")
    }
    own = {page: texts for page, texts in said_by.items() if not page.startswith(ENGLISH)}
    left = {page: [text for text in texts if foreign(text, names)] for page, texts in own.items()}
    assert {page: texts for page, texts in left.items() if texts} == {}
    tell(f"texts of the pseudo-language: {sum(map(len, own.values()))} on {len(own)} pages")


def test_the_cards_kept_in_english_say_nothing_in_another_language(site):
    cards = list((site / ENGLISH).rglob("*.html"))
    assert len(cards) > 3
    name = pseudo("Pseudo")  # of the language itself, over the way to the card in it
    for path in cards:
        assert [text for text in Seen(path.read_text(encoding="utf-8")).said if BEGINS in text and text != name] == []


def look(page, looked, place, names):
    """Notes what of the screen is cut or foreign, its folds open."""
    page.evaluate(OPEN)
    found = page.evaluate(CUT) + [text for text in page.evaluate(TEXTS) if foreign(text, names)]
    if found:
        looked[place] = found


def shown(looked):
    return "\n".join(f"{place}: {each}" for place, found in looked.items() for each in found)


@pytest.mark.parametrize("record", ["empty", "demo"])
def test_no_page_cuts_anything_or_says_it_in_english(record, narrow, served, site, names, demo, pytestconfig):
    page = narrow.new_page()
    page.goto(served.address)
    whole = pytestconfig.getoption("all_screens")
    addresses = [page for page in pages(site) if not page.startswith(ENGLISH)]
    if not whole:
        kinds = {address.removesuffix("index.html") for address in one_page_of_each_kind(site)}
        addresses = [address for address in addresses if address in kinds]
    if record == "demo":
        page.evaluate(LOAD, [served.script, json.dumps(demo)])
        tanks = [entry["id"] for entry in demo if entry["kind"] == "tank"]
        of_kinds = {entry["kind"]: entry["id"] for entry in demo}
        addresses = [each for each in addresses if whole or fills(site / each)]
        addresses += [f"tanks/tank/#id={id}" for id in tanks[: None if whole else 1]]
        addresses += [f"record/entry/#id={id}" for id in of_kinds.values()]
    for address in addresses:
        page.goto("about:blank")
        page.goto(served.address + address)
        page.evaluate(SCREENS_ARE_UP, served.script)
        if fills(site / address.partition("#")[0]):
            page.locator("main[data-ready]").wait_for()
        look(page, narrow.looked, address, names)
    assert shown(narrow.looked) == ""


def fills(folder):
    path = folder / "index.html" if folder.is_dir() else folder
    return "data-fills" in path.read_text(encoding="utf-8")


def test_no_step_of_the_purge_cuts_anything_or_says_it_in_english(narrow, served, names):
    at = Phone(narrow, served, narrow.size)
    at.open(f"go-on={at.purge['id']}")
    for state, step in STEPS.items():
        at.put_on(shortest(LATEST, state), {})
        look(at.page, narrow.looked, state, names)
        if step.running:
            for one in ("[data-event=closed]", "[data-event-link]"):
                box = hand.step(at.page).locator(one).bounding_box()
                if box["y"] < -1 or box["y"] + box["height"] > HIGH + 1:
                    narrow.looked[f"{state} {one}"] = [str(box)]
    assert shown(narrow.looked) == ""


def test_a_hand_walks_the_whole_purge_and_sees_nothing_cut_and_nothing_in_english(narrow, served, names):
    page = hand.open_purge(narrow.new_page(), served.address)
    for event in hand.TAPS_WITHOUT_A_TANK:
        look(page, narrow.looked, hand.state(page), names)
        hand.type_readings(page)
        hand.tap(page, event)
    assert hand.state(page) == LAST
    look(page, narrow.looked, LAST, names)
    page.goto(f"{served.address}record/")
    page.locator("main[data-ready]").wait_for()
    look(page, narrow.looked, "record", names)
    assert shown(narrow.looked) == ""


def test_a_rehearsal_its_end_and_a_list_of_ones_own_are_whole_too(narrow, served, names):
    page = hand.hurry(narrow.new_page())
    page.goto(f"{served.address}rehearsal/")
    page.locator("[data-rehearsals][data-ready]").wait_for()
    look(page, narrow.looked, "rehearsals", names)
    page.locator("[data-scenario=plain-trub]").click()
    page.locator("[data-purge][data-ready]").wait_for()
    for event in ("begin", "all-there", "stack-hangs", "hooked-up", "at-pressure", "gas-shut", "fits"):
        look(page, narrow.looked, f"rehearsal, {hand.state(page)}", names)
        page.evaluate("() => { document.querySelector('[data-sim-more]').open = false; }")
        hand.type_readings(page)
        hand.tap(page, event)
    look(page, narrow.looked, "rehearsal, run", names)
    page.locator("[data-sim-more] [data-end-now]").click()
    page.locator("[data-rehearsal-over]").wait_for()
    look(page, narrow.looked, "rehearsal, over", names)
    page.goto(f"{served.address}checklists/hops/")
    page.locator("main[data-ready]").wait_for()
    page.locator("[data-copy]").click()
    page.wait_for_url("**/own/edit/**")
    page.locator("main[data-ready]").wait_for()
    look(page, narrow.looked, "own list, edited", names)
    assert shown(narrow.looked) == ""


def test_a_round_and_the_walk_along_the_gauges_are_whole_too(narrow, served, names):
    page = narrow.new_page()
    page.goto(served.address)
    tanks = [cellar.tank(name, stack=cellar.USUAL) for name in ("FV 1", "FV 2", "FV 3")]
    cellar.keep(page, served, *tanks, cellar.hold("FV 3"))
    for place in ("", "tanks/", "handover/", "gauges/"):
        page.goto(served.address + place)
        page.locator("main[data-ready]").wait_for()
        look(page, narrow.looked, place, names)
    page.goto(f"{served.address}round/")
    page.locator("main[data-ready]").wait_for()
    for name in ("FV 1", "FV 2"):
        page.get_by_role("checkbox", name=name).set_checked(True, force=True)
    look(page, narrow.looked, "round, chosen", names)
    page.locator("[data-begin]").click()
    page.locator("[data-walk]").wait_for()
    look(page, narrow.looked, "round", names)
    assert shown(narrow.looked) == ""


@pytest.mark.parametrize(("body", "found"), [
    ("<p>⟦Šĥūţ ţĥē ṽāļṽē⟧</p>", False),
    ("<p>Shut the valve</p>", True),
    ('<button aria-label="Shut it">⟦Šĥūţ⟧</button>', True),
    ('<div style="overflow: hidden; width: 4em; white-space: nowrap">⟦Šĥūţ ţĥē ṽāļṽē⟧</div>', True),
    ('<button style="width: 3em; white-space: nowrap">⟦Šĥūţ ţĥē ṽāļṽē⟧</button>', True),
    ('<p style="position: relative">⟦Šĥūţ⟧<span style="margin-left: -2em">⟦ōƥēń⟧</span></p>', True),
    ('<p style="width: 40em">⟦Šĥūţ ţĥē ṽāļṽē, ţĥēń ŵāīţ ƒōŕ ţĥē ƀēēŕ ţō ćōṁē ōūţ⟧</p>', True),
    ('<select style="width: 4em"><option>⟦Šĥūţ ţĥē ṽāļṽē⟧</option></select>', True),
])
def test_what_is_cut_or_left_in_english_is_found(body, found, narrow):
    page = narrow.new_page()
    page.set_content(f'<meta name="viewport" content="width=device-width"><body>{body}')
    look(page, narrow.looked, "made up", ())
    assert bool(narrow.looked.get("made up")) == found, narrow.looked


def test_a_text_of_it_is_longer_by_what_a_translation_grows():
    text = "Shut the isolation valve before the clamp"
    # Source: the length that the language is declared to have; counted here by hand: 41 letters and 17 more
    assert len(text) == 41 and len(pseudo(text)) >= 41 + 17
    assert NAME not in languages()
