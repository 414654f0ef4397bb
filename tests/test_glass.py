"""The phone watches the glass: films of an invented one before a real browser's camera, on the frozen site."""

import json

import cellar
import films
import hand
import pytest
from axe_core_python.base import AXE_SCRIPT
from browsers import PHONE
from playwright.sync_api import expect
from tankfoot.purge.machine import LATEST
from test_accessibility import CONTRAST, RULES, RUN_AXE
from test_fixed_places import BOX
from test_pouch import STAND_IN
from test_purge import LINES_IN_SIGHT
from test_purge_table import shortest
from test_usual_change import OWN, was

SMALL, USUAL = (360, 640), (390, 844)
IN_SUITE = ("trub", "lamp")
LOOK = 1200  # ms: a second tap at the same spot is none for 0.7 s
AT = "Date.now()"
SAYS = "[data-step]:not([hidden]) [data-glass-says]"
STAGE = "document.querySelector('[data-purge]').dataset.glassStage ?? null"
LIT = """() => new Promise((then) => {
  document.querySelector("[data-glass-video]").requestVideoFrameCallback(() => then(Date.now()));
})"""
PLACE = "(mark) => [mark.style.left, mark.style.top].map(parseFloat)"
COVERED = """(selector) => {
  const one = document.querySelector(`[data-step]:not([hidden]) ${selector}`);
  const { left, top, right, bottom } = one.getBoundingClientRect();
  const spots = [[0.5, 0.5], [0.02, 0.1], [0.98, 0.1], [0.02, 0.9], [0.98, 0.9]];
  return spots.every(([x, y]) => {
    const seen = document.elementFromPoint(left + x * (right - left), top + y * (bottom - top));
    return one.contains(seen);
  });
}"""
FRAME_BOX = """() => {
  const frame = document.querySelector("[data-glass-frame]");
  const style = getComputedStyle(frame);
  return ["Left", "Top", "Right", "Bottom"].map((side) => parseFloat(style[`border${side}Width`]));
}"""
# Stands in for a phone whose camera can be fixed and has a lamp; it writes down what was asked of it.
# Source: W3C MediaStream Image Capture, 2021, MediaTrackCapabilities and MediaTrackSettings.
ABLE = """() => {
  window.applied = [];
  let now = {
    exposureMode: "continuous", exposureTime: 125, iso: 200, whiteBalanceMode: "continuous", colorTemperature: 4300,
    torch: false,
  };
  const track = MediaStreamTrack.prototype;
  track.getCapabilities = () => ({
    exposureMode: ["continuous", "manual"], exposureTime: { min: 1, max: 2000, step: 1 },
    iso: { min: 50, max: 800, step: 1 },
    whiteBalanceMode: ["continuous", "manual"], colorTemperature: { min: 2500, max: 7000, step: 50 }, torch: true,
  });
  track.getSettings = () => now;
  track.applyConstraints = async ({ advanced: [asked] }) => { window.applied.push(asked); now = { ...now, ...asked }; };
}"""


@pytest.fixture(scope="module")
def film_files(tmp_path_factory):
    folder = tmp_path_factory.mktemp("films")

    def made(name):
        run, samples = films.run_of(name)
        path = folder / f"{name}.y4m"
        return run, path if path.exists() else films.film(path, samples)

    return made


@pytest.fixture
def filmed(playwright, served, film_files):
    """The purge page of FV 1 at the step "run" on a phone whose camera shows a film, and the run that is on it."""
    opened = []

    def at_the_run(name, size=SMALL, *, permissions=("camera",), past=(), init=None, keeps=False, **settings):
        run, path = film_files(name)
        browser = playwright.chromium.launch(**films.camera_options(playwright, path))
        opened.append(browser)
        given = {**PHONE, "viewport": {"width": size[0], "height": size[1]}, "permissions": list(permissions)}
        context = browser.new_context(**given, **({} if keeps else {"service_workers": "block"}))
        page = context.new_page()
        page.add_init_script(f"({STAND_IN})([])")
        if init:
            page.add_init_script(f"({init})()")
        page.goto(served.address)
        if keeps:
            page.evaluate("navigator.serviceWorker.ready.then(() => null)")
        cellar.remember(page, served, **{"watch": True, **settings})
        now = cellar.moment(page.evaluate(AT))
        tank = cellar.tank("FV 1", stack=cellar.USUAL, cap_way="Bleed cap, a quarter turn.")
        purge = cellar.walked(shortest(LATEST, "run"), of="FV 1", now=now)
        cellar.keep(page, served, tank, purge, *(made(now) for made in past))
        if keeps:
            context.set_offline(True)
        page.goto(f"{served.address}purge/#go-on={purge['id']}")
        page.locator("[data-purge][data-ready]").wait_for()
        return page, run

    yield at_the_run
    for browser in opened:
        browser.close()


def tap(page, event):
    page.wait_for_timeout(LOOK)
    here = page.locator(f"[data-step={hand.state(page)}]")
    here.locator(f"[data-event={event}]").click()
    here.wait_for(state="hidden")


def aim(page):
    """Asks for the camera; returns the instant of the film's first picture, ms."""
    page.locator("[data-glass-on]").click()
    expect(page.locator("[data-glass-aim]")).to_be_visible()
    first = page.evaluate(LIT)
    page.locator("[data-aim-done]").click()
    return first


def watched(page, served):
    return next(body["watched"] for body in cellar.kept(page, served) if body.get("watched"))


def overrun(page, served):
    return next(body for body in cellar.kept(page, served) if body.get("watched"))["result"]["overrun"]["value"]


def opened_at(page, served):
    events = next(body["events"] for body in cellar.kept(page, served) if body.get("open"))
    at = next(each["at"] for each in events if each["event"] == "opened")
    return page.evaluate("(at) => Date.parse(at)", at)


def watch_to_the_end(page, served, run):
    """Opens, watches the film and closes; returns what was kept, and when the film's run began, s after opened."""
    first = aim(page)
    tap(page, "opened")
    began = (first - opened_at(page, served)) / 1000 + films.BEFORE
    page.wait_for_timeout(max(0, 1000 * (began + films.END - 0.6) - page.evaluate(AT) + opened_at(page, served)))
    tap(page, "closed")
    page.wait_for_function(KEPT_NOW, arg=served.script)
    return watched(page, served), began


KEPT_NOW = """async (url) => {
  const entries = await (await import(url)).take("browser/storage/record.js").ofKind("purge");
  return entries.some(({ body }) => body.watched);
}"""


@pytest.mark.alone  # a film goes on whatever else the machine does
@pytest.mark.parametrize("name", IN_SUITE)
def test_a_film_is_watched_without_signal(filmed, served, name, tell):
    page, run = filmed(name, keeps=True)
    seen, began = watch_to_the_end(page, served, run)
    # the film's own change, by the generator: it is told to less than a second, however late the camera came up
    tell(f"{name}: seen {seen['beer_at'] - began - run.change:+.2f} s from the film's change, unseen {seen['unseen']}")
    assert seen["beer_at"] == pytest.approx(began + run.change, abs=0.8)
    assert seen["turning_at"] <= seen["beer_at"] + 0.5
    # before the run an empty glass stands still, and is no layer: that it cannot be told is said too
    later = [why for _, end, why in seen["unseen"] if end > began + run.fill + 1.0]
    assert later == (["dark"] if name == "lamp" else [])
    assert len(seen["colours"]) == pytest.approx(4 * 2 * (began + films.END), abs=16)
    assert (seen["every"], seen["taken"]) == (0.5, False)


@pytest.mark.alone
@pytest.mark.parametrize("name", sorted(set(films.FILMS) - set(IN_SUITE)))
def test_each_kind_of_film(filmed, served, name, tell, pytestconfig):
    if not pytestconfig.getoption("--films"):
        pytest.skip("the long run: --films")
    page, run = filmed(name)
    seen, began = watch_to_the_end(page, served, run)
    tell(f"{name}: {seen['beer_at']}, unseen {seen['unseen']}")
    reasons = {why for _, _, why in seen["unseen"]}
    if name == "never":
        assert (seen["beer_at"], seen["turning_at"]) == (None, None)
    elif name in ("fog", "knocked"):
        # misses are said as unseen rather than silent
        assert reasons >= {"fog" if name == "fog" else "moved"} or seen["beer_at"] is not None
    else:
        assert seen["beer_at"] == pytest.approx(began + run.change, abs=0.8)


def test_turning_is_low_and_ringed_beer_is_loud_and_framed_and_nothing_of_the_way_out_is_covered(filmed, served):
    page, run = filmed("trub", past=[lambda now, n=n, s=s: was("FV 1", 20 + n, s, now, readings={"flow": "2 gal/min"})
                                     for n, s in enumerate(OWN)])
    plain = {box: page.evaluate(BOX, box) for box in ("[data-event=closed]", "[data-event-link]")}
    assert page.evaluate(LINES_IN_SIGHT)
    page.locator("[data-glass-on]").click()
    expect(page.locator("[data-glass-aim]")).to_be_visible()
    page.wait_for_timeout(600)
    for box in (*plain, "[data-event=opened]"):
        assert page.evaluate(COVERED, box)
    page.locator("[data-aim-done]").click()
    assert page.evaluate(LINES_IN_SIGHT)
    tap(page, "opened")
    stages, heard = [], []
    page.evaluate("() => { window.tones.length = 0; window.buzzed.length = 0; window.volumes.length = 0; }")
    while not stages or stages[-1] != "beer":
        stage = page.evaluate(STAGE)
        if stage and stage not in stages:
            stages.append(stage)
            page.wait_for_timeout(50)
            heard.append(page.evaluate("[window.tones.splice(0), window.buzzed.splice(0), window.volumes.splice(0)]"))
            for box, place in plain.items():
                assert (page.evaluate(BOX, box), page.evaluate(COVERED, box)) == (place, True)
            assert page.evaluate(LINES_IN_SIGHT), stage
        page.wait_for_timeout(50)
    assert stages == ["filling", "solids", "turning", "beer"]
    (turning, turning_buzz, turning_volume), (beer, beer_buzz, beer_volume) = heard[2:]
    assert heard[:2] == [[[], [], []]] * 2
    # Source: ISO 8201 (three equal pulses, then a rest) and the four equal pulses of CO alarms, both from memory; gas
    # monitors sound above 2 kHz (common practice, no source)
    assert max(turning) < 250 < max(beer) < 1000
    assert (len(beer), len(set(beer))) == (4, 2)
    assert turning_volume[-1] < beer_volume[-1] == 1
    assert max(map(sum, turning_buzz)) < max(map(sum, beer_buzz))
    expect(page.locator("[data-glass-frame]")).to_be_visible()
    left, top, right, bottom = page.evaluate(FRAME_BOX)
    for x, y, width, height in plain.values():
        assert left <= x and x + width <= SMALL[0] - right and top <= y and y + height <= SMALL[1] - bottom
    # sooner than the five fast purges before it: it says so, and is no quieter
    expect(page.locator(SAYS)).to_have_text("Beer so soon? Look.")
    expect(page.locator(SAYS)).to_have_attribute("role", "alert")
    # the tap stays the hand's
    assert next(body for body in cellar.kept(page, served) if body.get("open"))["events"][-1]["event"] == "opened"
    tap(page, "colour-change")
    expect(page.locator("[data-glass-frame]")).to_be_hidden()
    assert page.evaluate("[window.tones, window.buzzed]") == [[], []]


def test_after_closed_the_seen_time_is_offered_taken_and_given_back(filmed, served):
    page, run = filmed("trub")
    first = aim(page)
    tap(page, "opened")
    page.wait_for_function(f"() => ({STAGE}) === 'beer'", timeout=20_000)
    page.wait_for_timeout(1500)
    tap(page, "colour-change")
    tap(page, "closed")
    offer = page.locator("[data-glass-offer]")
    expect(offer).to_be_visible()
    body = next(each for each in cellar.kept(page, served) if each.get("watched"))
    at = {each["event"]: page.evaluate("(at) => Date.parse(at)", each["at"]) for each in body["events"]}
    earlier = round((at["colour-change"] - at["opened"]) / 1000 - body["watched"]["beer_at"])
    assert earlier >= 2
    assert first < at["opened"]
    expect(offer).to_contain_text(f"{earlier} s earlier. Take that time?")
    page.wait_for_timeout(LOOK)
    offer.locator("[data-take=yes]").click()
    expect(offer.locator("[data-take=yes]")).to_be_hidden()
    taken = next(each for each in cellar.kept(page, served) if each.get("watched"))
    assert (taken["watched"]["taken"], taken["events"]) == (True, body["events"])
    offer.locator("[data-take=no]").click()
    expect(offer.locator("[data-take=no]")).to_be_hidden()
    assert watched(page, served) == body["watched"]
    # what it counts in: by hand, the beer that ran is the flow times the seconds from the change until it was closed
    hand.type_readings(page, {"after": {"pressure_after": "8 psi", "flow": "2 gal/min"}})
    tap(page, "read")
    flow = 2 * 3.785411784e-3 / 60  # m3/s, NIST Handbook 44
    assert overrun(page, served) == pytest.approx(flow * (at["closed"] - at["colour-change"]) / 1000, rel=1e-6)
    page.wait_for_timeout(LOOK)
    offer.locator("[data-take=yes]").click()
    expect(offer.locator("[data-take=yes]")).to_be_hidden()
    seen = body["watched"]["beer_at"]
    assert overrun(page, served) == pytest.approx(flow * ((at["closed"] - at["opened"]) / 1000 - seen), rel=1e-6)


def test_a_reload_in_the_middle_goes_on(filmed, served):
    page, run = filmed("trub")
    aim(page)
    tap(page, "opened")
    page.wait_for_function(f"() => ({STAGE}) === 'solids'", timeout=20_000)
    page.wait_for_timeout(1200)
    before = page.evaluate("JSON.parse(localStorage.getItem('tankfoot-watching')).run")
    page.reload()
    page.locator("[data-purge][data-ready]").wait_for()
    page.wait_for_function(f"() => ({STAGE}) !== null", timeout=10_000)
    expect(page.locator("[data-glass-aim]")).to_be_hidden()
    tap(page, "closed")
    page.wait_for_function(KEPT_NOW, arg=served.script)
    seen = watched(page, served)
    assert seen["from"] == pytest.approx(before["strip"]["from"], abs=0.001)
    assert seen["colours"].startswith(before["strip"]["colours"])
    assert len(seen["colours"]) > len(before["strip"]["colours"])


def test_a_camera_that_a_hand_switched_off_stays_off_after_a_reload(filmed, served):
    page, _ = filmed("trub")
    aim(page)
    tap(page, "opened")
    page.wait_for_function(f"() => ({STAGE}) !== null", timeout=20_000)
    page.locator("[data-glass-seen]").click()
    page.locator("[data-aim-off]").click()
    page.reload()
    page.locator("[data-purge][data-ready]").wait_for()
    page.wait_for_timeout(2000)
    assert page.evaluate("document.querySelector('[data-glass-video]').srcObject === null")
    page.locator("[data-glass-on]").click()  # and on again by the hand: what was seen before goes on
    page.wait_for_function(f"() => ({STAGE}) !== null", timeout=20_000)
    page.wait_for_timeout(1500)  # it is kept every second
    page.reload()
    page.locator("[data-purge][data-ready]").wait_for()
    page.wait_for_function(f"() => ({STAGE}) !== null", timeout=10_000)


def test_what_is_measured_goes_with_the_purge(filmed, served):
    page, _ = filmed("trub")
    aim(page)
    tap(page, "opened")
    page.wait_for_timeout(2500)
    tap(page, "closed")
    page.wait_for_function(KEPT_NOW, arg=served.script)
    run = page.evaluate("JSON.parse(localStorage.getItem('tankfoot-watching')).run")
    assert len(json.dumps(run["state"])) < 2600
    id = run["purge"]
    page.goto(f"{served.address}record/entry/#id={id}")
    page.locator("[data-record-entry][data-ready]").wait_for()
    page.locator("[data-delete]").click()
    page.wait_for_url("**/record/#deleted=*")
    assert page.evaluate("JSON.parse(localStorage.getItem('tankfoot-watching')).run") is None


def test_by_default_the_camera_is_neither_seen_nor_asked_for_nor_loaded(filmed, served):
    asked = "() => { navigator.mediaDevices.getUserMedia = () => { window.asked = true; }; }"
    page, _ = filmed("trub", watch=False, init=asked)
    expect(page.locator("[data-glass]")).to_be_hidden()
    tap(page, "opened")
    tap(page, "colour-change")
    tap(page, "closed")
    expect(page.locator("[data-glass]")).to_be_hidden()
    assert page.evaluate("[window.asked ?? null, localStorage.getItem('tankfoot-watching')]") == [None, None]


@pytest.mark.parametrize(("name", "says"), [
    ("NotAllowedError", "Camera refused"), ("NotFoundError", "No camera"), ("NotReadableError", "Camera in use"),
], ids=["refused", "missing", "in use"])
@pytest.mark.parametrize("size", [SMALL, USUAL], ids=["small", "usual"])
def test_without_a_camera_the_run_goes_on_as_ever(filmed, served, name, says, size):
    # Source: W3C Media Capture and Streams, getUserMedia(), the names of what it rejects with
    gone = f"() => {{ MediaDevices.prototype.getUserMedia = async () => {{ throw new DOMException('', '{name}'); }}; }}"
    page, _ = filmed("trub", size=size, init=gone)
    page.locator("[data-glass-on]").click()
    expect(page.locator("[data-glass-on]")).to_contain_text(says)
    assert page.evaluate(LINES_IN_SIGHT)
    assert page.locator("[data-glass-on]").evaluate("(one) => one.scrollWidth <= one.clientWidth + 1")
    expect(page.locator("[data-glass-aim]")).to_be_hidden()
    tap(page, "opened")
    tap(page, "colour-change")
    tap(page, "closed")
    expect(page.locator("[data-step=after]")).to_be_visible()
    assert not any(body.get("watched") for body in cellar.kept(page, served))


def test_exposure_and_white_balance_are_fixed_as_they_stand_and_the_lamp_is_the_hands(filmed):
    page, _ = filmed("trub", init=ABLE)
    page.locator("[data-glass-on]").click()
    page.locator("[data-aim-torch]").click()
    expect(page.locator("[data-aim-torch]")).to_have_attribute("aria-pressed", "true")
    page.locator("[data-aim-done]").click()
    page.wait_for_function("() => window.applied.length === 2")
    assert page.evaluate("window.applied") == [{"torch": True}, {
        "exposureMode": "manual", "exposureTime": 125, "iso": 200, "whiteBalanceMode": "manual",
        "colorTemperature": 4300,
    }]
    page.locator("[data-glass-seen]").click()
    page.wait_for_function("() => window.applied.length === 3")
    assert page.evaluate("window.applied[2]") == {"exposureMode": "continuous", "whiteBalanceMode": "continuous"}
    page.locator("[data-aim-off]").click()
    expect(page.locator("[data-glass-on]")).to_be_visible()
    assert page.evaluate("document.querySelector('[data-glass-video]').srcObject") is None


def test_the_marks_are_put_by_a_finger_and_by_keys_and_are_there_the_next_time(filmed):
    page, _ = filmed("trub")
    page.locator("[data-glass-on]").click()
    picture = page.locator("[data-aim-picture]")
    page.wait_for_timeout(400)
    expect(page.locator("[data-aim-says]")).to_have_text("It can see both.")
    box = picture.bounding_box()
    page.mouse.click(box["x"] + 0.9 * box["width"], box["y"] + 0.2 * box["height"])
    second = page.locator("[data-mark=reference]")
    assert second.evaluate(PLACE) == pytest.approx([90, 20], abs=1)
    first = page.locator("[data-mark=glass]")
    first.focus()
    for key in ("ArrowLeft", "ArrowLeft", "ArrowDown"):
        page.keyboard.press(key)
    assert first.evaluate(PLACE) == pytest.approx([36, 52], abs=0.01)
    for mark in (first, second):
        assert min(mark.bounding_box()["width"], mark.bounding_box()["height"]) >= 56
    page.locator("[data-aim-off]").click()
    page.reload()
    page.locator("[data-purge][data-ready]").wait_for()
    page.locator("[data-glass-on]").click()
    expect(page.locator("[data-glass-aim]")).to_be_visible()
    assert page.locator("[data-mark=glass]").evaluate("(mark) => mark.style.left") == "36%"


def test_the_beers_colour_of_the_tanks_last_run_helps_the_next(filmed, served):
    colour = [70.0, 5.0, 50.0]

    def before(now):
        made = was("FV 1", 20, 60.0, now)
        made["body"]["watched"] = {
            "from": 0.5, "every": 0.5, "colours": "AAAA", "turning_at": 40.0, "beer_at": 41.0, "unseen": [],
            "beer_colour": colour, "taken": False,
        }
        return made

    page, _ = filmed("trub", past=[before])
    aim(page)
    tap(page, "opened")
    page.wait_for_timeout(2000)
    assert page.evaluate("JSON.parse(localStorage.getItem('tankfoot-watching')).run.state.beer_colour") == colour


def test_pictures_are_dropped_while_the_phone_is_busy_and_never_queued(filmed):
    count = """() => {
      window.read = 0;
      const draw = CanvasRenderingContext2D.prototype.drawImage;
      CanvasRenderingContext2D.prototype.drawImage = function counted(...given) {
        window.read += 1;
        return draw.apply(this, given);
      };
    }"""
    page, _ = filmed("trub", init=count)
    aim(page)
    tap(page, "opened")
    busy = """async (ms) => {
      const before = window.read;
      const until = performance.now() + ms;
      while (performance.now() < until);
      await new Promise((then) => { setTimeout(then, 2000); });
      return window.read - before;
    }"""
    # five a second, and at most the one that was due when the phone was free again
    assert 6 <= page.evaluate(busy, 0) <= 11
    assert 6 <= page.evaluate(busy, 1500) <= 12


@pytest.mark.parametrize("light", ["dark", "light"])
def test_axe_finds_nothing_while_the_camera_is_aimed_and_while_it_watches(filmed, light):
    page, _ = filmed("trub", theme=light)
    page.evaluate(AXE_SCRIPT)
    page.locator("[data-glass-on]").click()
    expect(page.locator("[data-aim-says]")).not_to_be_empty()
    aimed = page.evaluate(RUN_AXE, [RULES, CONTRAST])
    page.locator("[data-aim-done]").click()
    tap(page, "opened")
    expect(page.locator(SAYS)).not_to_be_empty()
    assert [aimed["found"], page.evaluate(RUN_AXE, [RULES, CONTRAST])["found"]] == [[], []]
