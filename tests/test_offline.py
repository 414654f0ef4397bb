"""Without signal: the server is stopped for real, the browser closed or killed, and the app goes on."""

import re
import shutil

import cellar
import pytest
from frozen import PACK, checklist_pages, files, pages
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import expect
from tankfoot import __version__

READY = "Ready to use without signal."
NEXT_VERSION = "99.0"
KEPT_ADDRESSES = """async () => {
  const names = (await caches.keys()).filter((name) => name.startsWith("tankfoot-"));
  const keys = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
  return keys.map((requests) => requests.map((request) => request.url));
}"""
UPDATE_REFUSED = """async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  return registration.update().then(() => null, (error) => error.name);
}"""
ASK_FOR_A_NEW_VERSION = """async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  await registration.update();
  await new Promise((resolve) => {
    const worker = registration.installing;
    if (!worker) return resolve();
    worker.addEventListener("statechange", () => { if (worker.state !== "installing") resolve(); });
  });
}"""


@pytest.fixture
def kept(keeping_phone, serve, site):
    """A phone that has the app, and the server it came from."""
    server = serve(site)
    page = keeping_phone.new_page()
    keep(page, server.address)
    return page, server


def keep(page, root):
    page.goto(root)
    expect(page.locator("[data-kept]").first).to_have_text(READY)


def about(page, root):
    page.goto(f"{root}about/")
    return page.locator("main").inner_text()


def offered(page):
    return page.locator("[data-new-version]")


def test_ready_is_said_once_every_file_is_kept(kept, site):
    page, server = kept
    (addresses,) = page.evaluate(KEPT_ADDRESSES)
    assert {address.removeprefix(server.address) or "./" for address in addresses} == files(site)


def test_ready_is_not_said_while_a_file_is_missing(keeping_phone, serve, site):
    server = serve(site)
    server.faults |= {"/checklists/": 500, f"/{PACK}": 500}
    page = keeping_phone.new_page()
    page.goto(server.address)
    expect(page.locator("[data-kept]").first).to_have_text(re.compile("Not kept on this phone yet"))
    assert page.evaluate("() => caches.keys()") == []
    server.stop()
    with pytest.raises(PlaywrightError, match="ERR_CONNECTION_REFUSED"):
        page.goto(server.address)
    server.start()


@pytest.mark.parametrize("folder", ["", "tankfoot/"])
def test_a_browser_started_without_signal_opens_every_page(folder, own_chromium, serve, site):
    server = serve(site.parent if folder else site)
    root = server.address + folder
    keep(own_chromium.start().new_page(), root)
    own_chromium.close()
    server.stop()

    page = own_chromium.start().new_page()
    for address in pages(site):
        answer = page.goto(root + address, wait_until="domcontentloaded")
        assert answer.status == 200, address
        assert answer.from_service_worker
        expect(page.locator("h1:visible")).to_have_count(1)
        styled = page.evaluate("() => getComputedStyle(document.body).marginTop")
        assert styled == "0px", address
    a_sum_works(page, root)
    an_unknown_address_says_so(page, root)
    server.start()


def a_sum_works(page, root):
    page.goto(f"{root}calculators/colour-change-saving/")
    page.locator("main[data-ready]").wait_for()
    for name, number in {"flow": "10", "overrun_usual": "60", "overrun_now": "30"}.items():
        page.locator(f"[data-field={name}] [data-entry]").fill(number)
    # Source: by hand, 10 gal/min for half a minute less are 5 gal a purge.
    saved = page.locator("[data-result=saved_per_purge] [data-text]")
    expect(saved).to_have_text(re.compile(r"5(\.0+)? gal"))


def an_unknown_address_says_so(page, root):
    for unknown in ("no-such-page", "calculators/no/such/page/"):
        answer = page.goto(root + unknown)
        assert answer.status == 404
        expect(page.locator("h1")).to_have_text("No such page")
        assert page.evaluate("() => getComputedStyle(document.body).marginTop") == "0px"
        page.locator("main a").click()
        page.wait_for_url(root)


def test_an_address_without_its_slash_finds_its_page(kept):
    page, server = kept
    server.stop()
    page.goto(f"{server.address}calculators/purge-volume")
    expect(page).to_have_url(f"{server.address}calculators/purge-volume/")
    server.start()


def test_ticks_survive_a_reload_and_a_kill(own_chromium, serve, site):
    server = serve(site)
    address = server.address + next(iter(checklist_pages(site).values()))
    page = own_chromium.start().new_page()
    keep(page, server.address)
    server.stop()
    page.goto(address)
    page.locator("[data-checklist][data-ready]").wait_for()
    boxes = page.locator("[data-line]:not(:disabled)")
    lines = [boxes.nth(i).get_attribute("data-line") for i in range(2)]
    left = page.locator("[data-finished]")
    for line in lines:
        before = left.inner_text()
        page.locator(f"[data-line={line}]").check()
        expect(left).not_to_have_text(before)
    page.reload()
    ticked(page, lines)
    own_chromium.kill()

    page = own_chromium.start().new_page()
    page.goto(address)
    ticked(page, lines)
    server.start()


def ticked(page, lines):
    page.locator("[data-checklist][data-ready]").wait_for()
    checked = page.locator("[data-line]:checked")
    assert checked.evaluate_all("(all) => all.map((one) => one.dataset.line)") == lines


FAULTS = {"not found": 404, "server error": 500, "redirect": 302, "other content": None, "cut short": None}


@pytest.mark.parametrize("fault", FAULTS)
def test_a_new_version_that_is_not_whole_is_not_taken(fault, kept, next_site, tmp_path):
    page, server = kept
    before = page.evaluate(KEPT_ADDRESSES)
    broken = shutil.copytree(next_site, tmp_path / "broken")
    script = broken / "js" / "base.js"
    if fault == "other content":
        script.write_text("<!doctype html><title>Sign in to the guest network</title>", encoding="utf-8")
    elif fault == "cut short":
        script.write_bytes(script.read_bytes()[:-1])
    else:
        server.faults["/js/base.js"] = FAULTS[fault]
    server.swap(broken)
    page.evaluate(ASK_FOR_A_NEW_VERSION)

    expect(offered(page)).to_be_hidden()
    assert page.evaluate(KEPT_ADDRESSES) == before
    server.stop()
    assert f"Version {__version__}" in about(page, server.address)
    server.start()


# Source: Service Workers (W3C), Update: a worker that does not run as a script is no new version.
def test_a_captive_portals_page_for_every_address_is_never_taken_in(kept, site, tmp_path):
    page, server = kept
    before = page.evaluate(KEPT_ADDRESSES)
    portal = shutil.copytree(site, tmp_path / "portal")
    for path in portal.rglob("*"):
        if path.is_file():
            path.write_text("<!doctype html><title>Sign in to the guest network</title>", encoding="utf-8")
    server.swap(portal)
    assert page.evaluate(UPDATE_REFUSED)
    assert page.evaluate(KEPT_ADDRESSES) == before
    assert f"Version {__version__}" in about(page, server.address)


def test_a_new_version_waits_until_it_is_taken(kept, keeping_phone, next_site):
    page, server = kept
    typing = keeping_phone.new_page()
    typing.goto(f"{server.address}calculators/purge-volume/")
    typing.locator("main[data-ready]").wait_for()
    typing.locator("[data-field=headspace] [data-entry]").fill("4")
    page.evaluate("() => caches.open('somebody-else')")

    server.swap(next_site)
    page.evaluate(ASK_FOR_A_NEW_VERSION)
    expect(offered(page)).to_be_visible()
    expect(offered(typing)).to_be_visible()
    assert f"Version {__version__}" in about(page, server.address)

    expect(offered(page)).to_be_visible()
    with page.expect_navigation():
        offered(page).get_by_role("button").click()
    expect(page.locator("main")).to_contain_text(f"Version {NEXT_VERSION}")
    expect(offered(page)).to_be_hidden()
    expect(typing.locator("[data-field=headspace] [data-entry]")).to_have_value("4")
    with typing.expect_navigation():  # another window has taken it: here one tap is left to do
        offered(typing).get_by_role("button").click()
    expect(offered(typing)).to_be_hidden()
    assert f"Version {NEXT_VERSION}" in about(typing, server.address)
    page.wait_for_function("async () => (await caches.keys()).length === 2")
    assert page.evaluate("() => caches.has('somebody-else')")
    server.stop()
    assert f"Version {NEXT_VERSION}" in about(page, server.address)
    server.start()


def test_pages_left_open_find_a_new_version_by_themselves(keeping_phone, serve, site, next_site):
    server = serve(site)
    pages = [keeping_phone.new_page() for _ in range(2)]
    for page, address in zip(pages, ("", "purge/"), strict=True):
        page.clock.install()
        page.goto(server.address + address)
        page.locator("main[data-ready]").wait_for()
    expect(pages[0].locator("[data-kept]").first).to_have_text(READY)
    pages[1].evaluate("window.isThisPage = true")
    server.swap(next_site)
    pages[0].clock.run_for(61_000)
    for page in pages:
        expect(offered(page)).to_be_visible()
    pages[1].clock.run_for(61_000)
    with pages[0].expect_navigation():
        offered(pages[0]).get_by_role("button").click()
    pages[1].wait_for_timeout(500)
    assert pages[1].evaluate("window.isThisPage") is True  # nothing was loaded again under a purge


def test_while_a_purge_is_under_way_no_new_version_is_offered(kept, next_site):
    page, server = kept
    purge = cellar.walked(["begin"])
    cellar.keep(page, server, purge)
    server.swap(next_site)
    page.evaluate(ASK_FOR_A_NEW_VERSION)
    page.wait_for_function("async () => (await navigator.serviceWorker.ready).waiting !== null")
    page.reload()
    page.wait_for_function("() => document.documentElement.hasAttribute('data-at-work')")
    expect(offered(page)).to_be_hidden()
    cellar.keep(page, server, purge | {"deleted": True})
    expect(offered(page)).to_be_visible()


def test_a_version_can_be_taken_back(keeping_phone, serve, site, next_site):
    server = serve(next_site)
    page = keeping_phone.new_page()
    keep(page, server.address)
    assert f"Version {NEXT_VERSION}" in about(page, server.address)
    server.swap(site)
    page.evaluate(ASK_FOR_A_NEW_VERSION)
    expect(offered(page)).to_be_visible()
    with page.expect_navigation():
        offered(page).get_by_role("button").click()
    expect(page.locator("main")).to_contain_text(f"Version {__version__}")
