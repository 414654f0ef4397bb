"""The same promises in WebKitGTK, the engine family of Safari on phones."""

import time
from contextlib import contextmanager

import hand
import pytest
from browsers import NoBrowser, Served
from cases import cases
from conftest import NEXT_VERSION
from frozen import pages
from parity import compare
from records import CURRENT, current
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait
from tankfoot.calculators import calculators
from webkit import PACKAGES, webkit

PATIENCE = 60  # seconds
# As a person chooses a file: its driver has no way to.
CHOOSE = """
  const chosen = new DataTransfer();
  chosen.items.add(new File([arguments[0]], "record.json", { type: "application/json" }));
  const input = document.querySelector("[data-import]");
  input.files = chosen.files;
  input.dispatchEvent(new Event("change", { bubbles: true }));"""


@contextmanager
def opened():
    try:
        with webkit() as started:
            started.set_script_timeout(PATIENCE)
            yield started
    except NoBrowser as missing:
        pytest.skip(str(missing))


@pytest.fixture(scope="module")
def session():
    """One browser for the sums."""
    with opened() as started:
        yield started


@pytest.fixture
def own_session():
    """A browser that was just started: after some hundred pages and many databases one answers no more."""
    with opened() as started:
        yield started


def test_where_webkit_is_missing_it_is_installed_or_it_is_said_how(monkeypatch):
    asked = []
    monkeypatch.delenv("CI", raising=False)
    monkeypatch.setattr("webkit._found", lambda: None)
    monkeypatch.setattr("webkit.apt_install", lambda *packages: asked.append(packages))
    with pytest.raises(NoBrowser, match="apt-get install webkit2gtk-driver"), webkit():
        pass
    assert asked == [PACKAGES]


@pytest.mark.parametrize("id", calculators())
def test_every_calculator_answers_alike_in_webkit(id, session, served, pytestconfig, tell):
    calculator, count = calculators()[id], pytestconfig.getoption("parity_cases")
    if not session.current_url.startswith(served.address):
        session.get(served.address)
    started = time.perf_counter()
    differences = compare(evaluator(session), served.address, calculator, cases(calculator, count))
    tell(f"parity of {id} in WebKit: {count} cases in {time.perf_counter() - started:.1f} s")
    assert not differences, f"{len(differences)} differences, such as {differences[:3]}"


def evaluator(session):
    def evaluate(function, text):
        script = f"const done = arguments[1]; ({function})(arguments[0]).then(done, (e) => done(`failed: ${{e}}`));"
        return session.execute_async_script(script, text)

    return evaluate


@pytest.fixture
def server(site):
    started = Served(site)
    yield started
    started.stop()


def test_without_signal_every_page_opens_in_webkit(own_session, server, site):
    own_session.get(server.address)
    wait_for_text(own_session, "[data-kept]", "Ready to use without signal.")
    server.stop()
    try:
        for address in pages(site):
            own_session.get(server.address + address)
            assert own_session.find_elements(By.TAG_NAME, "h1"), address
        a_sum_works(own_session, server.address)
        an_unknown_address_says_so(own_session, server.address)
    finally:
        server.start()


def wait_for_text(session, selector, text):
    def has_text(_):
        return text in session.find_element(By.CSS_SELECTOR, selector).text

    WebDriverWait(session, PATIENCE).until(has_text)


def a_sum_works(session, root):
    session.get(f"{root}calculators/colour-change-saving/")
    WebDriverWait(session, PATIENCE).until(lambda s: s.find_elements(By.CSS_SELECTOR, "main[data-ready]"))
    for name, number in {"flow": "10", "overrun_usual": "60", "overrun_now": "30"}.items():
        entry = session.find_element(By.CSS_SELECTOR, f"[data-field={name}] [data-entry]")
        entry.clear()
        entry.send_keys(number)
    # Source: by hand, 10 gal/min for half a minute less are 5 gal a purge.
    wait_for_text(session, "[data-result=saved_per_purge] [data-text]", "5")
    shown = session.find_element(By.CSS_SELECTOR, "[data-result=saved_per_purge] [data-text]").text
    assert float(shown.removesuffix(" gal")) == 5.0


def an_unknown_address_says_so(session, root):
    session.get(f"{root}no/such/page/")
    assert session.find_element(By.TAG_NAME, "h1").text == "No such page"


@pytest.mark.alone  # its storage answers late where the other worker keeps the cores busy
def test_a_tick_is_found_again_in_webkit(own_session, served):
    own_session.get(f"{served.address}checklists/before-breaking-a-clamp/")
    WebDriverWait(own_session, PATIENCE).until(
        lambda s: s.find_elements(By.CSS_SELECTOR, "[data-checklist][data-ready]")
    )
    before = own_session.find_element(By.CSS_SELECTOR, "[data-finished]").text
    own_session.execute_script("document.querySelector('[data-line]').click()")
    WebDriverWait(own_session, PATIENCE).until(
        lambda s: s.find_element(By.CSS_SELECTOR, "[data-finished]").text != before
    )
    own_session.refresh()
    WebDriverWait(own_session, PATIENCE).until(
        lambda s: s.find_elements(By.CSS_SELECTOR, "[data-checklist][data-ready]")
    )
    assert own_session.find_element(By.CSS_SELECTOR, "[data-line]").is_selected()


@pytest.mark.alone  # its storage answers late where the other worker keeps the cores busy
def test_a_purge_is_taken_up_again_after_a_reload_in_webkit(own_session, served):
    own_session.get(f"{served.address}purge/")
    for name, text in {"headspace": "3 bbl", "temperature": "36 °F"}.items():
        entry = shown(own_session, f"[data-field={name}] [data-entry]")
        own_session.execute_script("arguments[0].scrollIntoView({ block: 'center' })", entry)
        entry.clear()
        entry.send_keys(text)
    walk(own_session, ["begin", "all-there", "stack-hangs"])
    own_session.refresh()
    shown_button(own_session, "[data-go-on]")
    assert state(own_session) == "hookup"
    walk(own_session, ["undo", "undo"])
    assert state(own_session) == "ready"


def walk(session, events):
    """Taps; each is confirmed by the next step."""
    for event in events:
        here = state(session)
        time.sleep(hand.LOOK / 1000)
        place = "[data-undo]" if event == "undo" else f"[data-step={here}] [data-event={event}]"
        session.execute_script("document.querySelector(arguments[0]).click()", place)
        WebDriverWait(session, PATIENCE).until(lambda _, before=here: state(session) != before)


def state(session):
    WebDriverWait(session, PATIENCE).until(lambda s: s.find_elements(By.CSS_SELECTOR, "[data-purge][data-ready]"))
    return session.find_element(By.CSS_SELECTOR, "[data-step]:not([hidden])").get_attribute("data-step")


def shown(session, place):
    WebDriverWait(session, PATIENCE).until(lambda s: s.find_elements(By.CSS_SELECTOR, "[data-purge][data-ready]"))
    return session.find_element(By.CSS_SELECTOR, f"[data-step]:not([hidden]) {place}")


def shown_button(session, place):
    WebDriverWait(session, PATIENCE).until(lambda s: s.find_element(By.CSS_SELECTOR, place).is_displayed())
    session.execute_script("document.querySelector(arguments[0]).click()", place)
    WebDriverWait(session, PATIENCE).until(lambda s: not s.find_element(By.CSS_SELECTOR, place).is_displayed())


@pytest.mark.alone  # its storage answers late where the other worker keeps the cores busy
def test_a_file_is_imported_and_a_round_walked_in_webkit(own_session, served):
    own_session.get(f"{served.address}record/")
    WebDriverWait(own_session, PATIENCE).until(lambda s: s.find_elements(By.CSS_SELECTOR, "main[data-ready]"))
    own_session.execute_script(CHOOSE, CURRENT.read_text(encoding="utf-8"))
    WebDriverWait(own_session, PATIENCE).until(lambda s: s.find_element(By.CSS_SELECTOR, "[data-write]").is_displayed())
    own_session.execute_script("document.querySelector('[data-write]').click()")
    count = len(current()["entries"])
    wait_for_text(own_session, "[data-files-say]", f"Imported: {count} entries.")
    (tank,) = [entry for entry in current()["entries"] if entry["kind"] == "tank" and not entry["deleted"]][:1]
    own_session.get(f"{served.address}round/")
    shown_button(own_session, "[data-new]")
    WebDriverWait(own_session, PATIENCE).until(lambda s: s.find_elements(By.CSS_SELECTOR, f"[value='{tank['id']}']"))
    own_session.execute_script(f"document.querySelector(`[value='{tank['id']}']:not(:checked)`)?.click()")
    shown_button(own_session, "[data-begin]")
    wait_for_text(own_session, ".round-tank", tank["body"]["name"])
    own_session.refresh()
    wait_for_text(own_session, ".round-tank", tank["body"]["name"])


def test_a_new_version_is_taken_in_webkit(own_session, server, next_site):
    own_session.get(server.address)
    wait_for_text(own_session, "[data-kept]", "Ready to use without signal.")
    server.swap(next_site)
    own_session.execute_async_script(
        "navigator.serviceWorker.ready.then((found) => found.update()).then(() => arguments[0](), arguments[0])"
    )
    WebDriverWait(own_session, PATIENCE).until(
        lambda s: s.find_element(By.CSS_SELECTOR, "[data-new-version]").is_displayed()
    )
    own_session.execute_script("document.querySelector('[data-new-version] button').click()")
    time.sleep(1)  # it loads itself anew
    own_session.get(f"{server.address}about/")
    wait_for_text(own_session, "main", f"Version {NEXT_VERSION}")
