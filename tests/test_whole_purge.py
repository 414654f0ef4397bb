"""A whole purge on a small phone without signal: hidden, frozen, killed in the middle, and brought to another phone."""

import json
from datetime import UTC, datetime, timedelta

import hand
import pytest
from browsers import PHONE
from playwright.sync_api import expect
from records import sealed
from test_record import READ, ready
from test_speed import TANK

SMALL = {"width": 360, "height": 640}
FROZEN = 1500  # ms
AGO = timedelta(minutes=3)  # more than the walk to the open port takes by the clock
OPENED = hand.TAPS.index("opened")
BEFORE, MIDDLE, AFTER = hand.TAPS[:OPENED], hand.TAPS[OPENED + 1:OPENED + 6], hand.TAPS[OPENED + 6:]


def small(page, root):
    page.set_viewport_size(SMALL)
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.goto(root)
    return page


# After a kill a page may load itself anew, once, for settings that the disk had later than their copy.
REMEMBERED = """async (url) => {
  const { withStore } = (await import(url)).take("browser/storage/database.js");
  const stored = await withStore("readonly", (store) => store.get("tankfoot-settings"), "memory");
  return (stored?.writes ?? 0) === (JSON.parse(localStorage.getItem("tankfoot-settings") ?? "{}").writes ?? 0);
}"""


def taken_up(page, server, left_at):
    page.wait_for_function(REMEMBERED, arg=server.script)
    page.goto(f"{server.address}purge/")
    page.locator("[data-purge][data-ready]").wait_for()
    hand.go_on(page)
    assert hand.state(page) == left_at


def bring(page, root, file):
    page.goto(f"{root}record/")
    ready(page).locator("[data-import]").set_input_files(file)
    page.get_by_role("button", name="Import", exact=True).click()
    expect(page.get_by_text("Imported:")).to_be_visible()


# The phone's own clock while beer can run, from the tap that opens the port to the kill; before and after it the hand
# waits on a clock that it turns on, which began in the past.
def test_a_whole_purge_from_the_tank_to_another_phone(own_chromium, chromium, serve, site, tmp_path):
    server = serve(site)
    page = small(hand.hurry(own_chromium.start().new_page(), datetime.now(UTC) - AGO), server.address)
    expect(page.locator("[data-kept]").first).to_have_text("Ready to use without signal.", timeout=20000)
    server.stop()
    head = {"format": "tankfoot-record", "schema_version": 3, "app_version": "0", "made": TANK["edited"]}
    file = tmp_path / "tank.json"
    file.write_text(json.dumps(sealed(head | {"entries": [TANK]})), encoding="utf-8")
    bring(page, server.address, file)
    hand.open_purge(page, server.address, f"#tank={TANK['id']}")
    hand.walk(page, BEFORE)
    own_chromium.kill()

    page = small(own_chromium.start().new_page(), server.address)
    taken_up(page, server, "run")
    hand.tap(page, "opened")
    assert hand.state(page) == "flowing"
    session = page.context.new_cdp_session(page)
    other = page.context.new_page()
    other.bring_to_front()
    session.send("Page.setWebLifecycleState", {"state": "frozen"})
    other.wait_for_timeout(FROZEN)
    session.send("Page.setWebLifecycleState", {"state": "active"})
    page.bring_to_front()
    other.close()
    hand.walk(page, MIDDLE)
    left_at = hand.state(page)
    own_chromium.kill()

    page = small(hand.hurry(own_chromium.start().new_page()), server.address)
    taken_up(page, server, left_at)
    hand.walk(page, AFTER)
    assert hand.state(page) == "saved"
    record = page.evaluate(READ)
    held_together(record)

    page.goto(f"{server.address}record/")
    with page.expect_download() as download:
        ready(page).get_by_role("button", name="Export all").click()
    exported = tmp_path / "exported.json"
    download.value.save_as(exported)
    server.start()
    there = chromium.new_context(**PHONE)
    second = there.new_page()
    bring(second, server.address, exported)
    by_id = {entry["id"]: entry for entry in second.evaluate(READ)}
    assert len(by_id) == len(record)
    for entry in record:
        assert by_id[entry["id"]] == entry
    there.close()


def held_together(record):
    """The finished purge says what was tapped and measured, and the tank follows it."""
    (purge,) = [entry["body"] for entry in record if entry["kind"] == "purge"]
    (tank,) = [entry["body"] for entry in record if entry["kind"] == "tank"]
    assert [event["event"] for event in purge["events"]] == list(hand.TAPS)
    assert purge["state"] == "saved" and "open" not in purge
    times = [event["at"] for event in purge["events"]]
    assert times == sorted(times)
    # The clock went on while the page was frozen, and for two taps that were read.
    at = {event["event"]: event["at"] for event in purge["events"]}
    assert seconds(at["closed"]) - seconds(at["opened"]) >= (FROZEN + 2 * hand.LOOK) / 1000
    lost = purge["result"]["volume_lost"]["value"]
    # A weighted mean (GUM) lies between what each way found: 2 gal/min for the seconds of the run, 4 gal in the bucket,
    # and 3 bbl of gas falling from 12 to 10.5 psi gauge, by Boyle's law 3 bbl x 1.5 / 25.2, below half a barrel;
    # 1 US gal is 3.785411784 L (NIST Handbook 44).
    assert 0 < lost < 0.5 * 31 * 0.003785411784
    assert tank["beer_volume"] == pytest.approx(TANK["body"]["beer_volume"] - lost, abs=1e-12)
    # Topped up to the pressure wanted: 12 psi of 6894.757 Pa (NIST SP 811).
    assert tank["pressure"] == pytest.approx(12 * 6894.757293168, rel=1e-9)


def seconds(instant):
    return datetime.fromisoformat(instant).timestamp()
