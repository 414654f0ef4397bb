"""What a camera saw, on the record's page of a purge: its strip, and the seen instant taken and given back."""

import os
import struct
from base64 import b64decode

import cellar
import hand
import pytest
from playwright.sync_api import expect
from records import current
from tankfoot.record.age import seconds_between
from tankfoot.watch.strip import colours_of
from test_record import READ, WRITE, ready
from test_result import HALF_HIDDEN, TO_RESULT, TOLD

SIZES = {"tall": {"width": 390, "height": 844}, "small": {"width": 360, "height": 640}}


def purge(**watched):
    entry = next(entry for entry in current()["entries"] if "watched" in entry["body"])
    entry["body"] = entry["history"][0]["body"]  # as it was before the time was taken
    entry["body"]["watched"] |= watched
    return entry | {"history": []}


def opened(phone, served, entry):
    page = phone.new_page()
    page.goto(f"{served.address}record/")
    ready(page)
    page.evaluate(WRITE, [entry])
    page.goto(f"{served.address}record/entry/#id={entry['id']}")
    return ready(page)


def overrun(page):
    return page.locator("[data-results]").inner_text(), page.locator("[data-picture] [data-part=overrun] td").first


def test_the_strip_stands_in_the_record_with_its_marks(phone, served):
    entry = purge()
    page = opened(phone, served, entry)
    strip = page.locator("[data-seen] svg.run-strip")
    expect(strip).to_be_visible()
    # By hand from the file: opened to tapped 64 s, to closed 95 s; the camera saw beer 3.5 s before the tap.
    for said in ("closed after 95 s", "tap: beer after 64 s", "camera: beer after 60.5 s", "beer ran 31 s"):
        expect(strip).to_contain_text(said)
    expect(page.locator("[data-seen] [data-says]")).to_have_text(
        "The camera saw the change 3.5 s before the tap. The tap counts.")
    address = strip.locator("image").get_attribute("href")
    pixels = page.evaluate("""async (address) => {
      const image = new Image();
      image.src = address;
      await image.decode();
      const { width, height } = image;
      const canvas = Object.assign(document.createElement("canvas"), { width, height });
      const drawing = canvas.getContext("2d");
      drawing.drawImage(image, 0, 0);
      return { height, rgb: [...drawing.getImageData(0, 0, width, 1).data].filter((_, i) => i % 4 < 3) };
    }""", address)
    # reference: the browser's own reader of pictures
    told = [channel for colour in colours_of(entry["body"]["watched"]["colours"]) for channel in colour]
    assert pixels == {"height": 1, "rgb": told}
    assert struct.unpack_from("<2sI", b64decode(address.split(",")[1]))[0] == b"BM"


def test_a_seen_time_is_taken_and_given_back_and_the_tap_stays(phone, served):
    entry = purge()
    page = opened(phone, served, entry)
    page.get_by_role("button", name="Take the camera's time").click()
    expect(page.locator("[data-seen] [data-says]")).to_contain_text("The camera's time counts; the tap is kept.")
    expect(page.locator("[data-corrections]")).to_contain_text("the camera's time did not count")
    expect(page.locator("[data-results]")).to_contain_text("34.5 s")
    (taken,) = page.evaluate(READ)
    before = entry["body"]["result"]["overrun"]["value"]
    # By hand: at an even flow 34.5 s of beer are 34.5 / 31 of what 31 s were.
    assert taken["body"]["result"]["overrun"]["value"] == pytest.approx(before * 34.5 / 31.0, rel=1e-6)
    assert taken["body"]["events"] == entry["body"]["events"]
    page.get_by_role("button", name="Do not take the camera's time").click()
    expect(page.locator("[data-seen] [data-says]")).to_contain_text("The tap counts.")
    (given_back,) = page.evaluate(READ)
    assert given_back["body"]["result"]["overrun"]["value"] == pytest.approx(before, rel=1e-6)
    assert given_back["body"]["watched"] == entry["body"]["watched"]
    assert len(given_back["history"]) == 2


def test_a_correction_after_it_keeps_what_was_taken(phone, served):
    page = opened(phone, served, purge())
    page.get_by_role("button", name="Take the camera's time").click()
    expect(page.locator("[data-seen] [data-says]")).to_contain_text("counts; the tap is kept")
    page.locator("[data-correct] summary").click()
    page.locator("#notes").fill("Thin at first.")
    page.get_by_role("button", name="Save the correction").click()
    expect(page.locator("[data-notes]")).to_have_text("Thin at first.")
    (entry,) = page.evaluate(READ)
    assert entry["body"]["watched"]["taken"] is True


def test_nothing_is_offered_where_no_change_was_seen(phone, served):
    page = opened(phone, served, purge(beer_at=None, turning_at=None, beer_colour=None))
    expect(page.locator("[data-seen] [data-says]")).to_contain_text("saw no colour change")
    expect(page.locator("[data-take]")).to_be_hidden()


def test_a_purge_that_no_camera_watched_shows_nothing_of_it(phone, served):
    entry = purge()
    del entry["body"]["watched"]
    page = opened(phone, served, entry)
    expect(page.locator("[data-seen]")).to_be_hidden()
    fetched = page.evaluate("performance.getEntriesByType('resource').map(({ name }) => name)")
    assert not [name for name in fetched if name.endswith("pictures.css")]


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_every_word_of_the_strip_is_readable_on_a_small_phone(chromium, served, size, look):
    context = chromium.new_context(service_workers="block", viewport=SIZES[size], color_scheme=look)
    page = opened(context, served, purge())
    place = page.locator("[data-seen]")
    place.scroll_into_view_if_needed()
    if "SHOTS" in os.environ:
        place.screenshot(path=f"{os.environ['SHOTS']}/seen-{size}-{look}.png")
    assert page.evaluate("""() => {
      const svg = document.querySelector(".run-strip");
      const { left, right, width } = svg.getBoundingClientRect();
      return [...svg.querySelectorAll("text")].every((text) => {
        const box = text.getBoundingClientRect();
        return box.left >= left - 8 && box.right <= right + 8
          && parseFloat(getComputedStyle(text).fontSize) * width / 328 >= 14;
      });
    }""")
    context.close()


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_the_strip_stands_below_the_result_and_hides_nothing_of_it(chromium, served, size, look):
    context = chromium.new_context(service_workers="block", viewport=SIZES[size], color_scheme=look)
    page = context.new_page()
    page.goto(served.address)
    made = cellar.walked(TO_RESULT, "FV 1", result=TOLD)
    opened_at, closed_at = (next(event["at"] for event in made["body"]["events"] if event["event"] == name)
                            for name in ("opened", "closed"))
    run = seconds_between(opened_at, closed_at)
    watched = purge()["body"]["watched"]
    made["body"]["watched"] = watched | {"from": 0.0, "every": run / (len(watched["colours"]) / 4), "beer_at": None}
    cellar.keep(page, served, cellar.tank("FV 1"), made)
    hand.open_purge(page, served.address, f"#go-on={made['id']}")
    strip = page.locator("[data-step=result] svg.run-strips")
    expect(strip).to_be_visible()
    expect(strip).to_contain_text("beer ran")
    assert page.evaluate(HALF_HIDDEN) == []
    if "SHOTS" in os.environ:
        page.screenshot(path=f"{os.environ['SHOTS']}/result-{size}-{look}.png")
        strip.scroll_into_view_if_needed()
        page.screenshot(path=f"{os.environ['SHOTS']}/result-{size}-{look}-below.png")
    context.close()
