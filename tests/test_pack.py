"""A first visit: the app comes in one file, whole or not at all; an update fetches what changed."""

import json
import lzma
import re
import shutil
import struct
from collections import Counter

import pytest
from frozen import PACK, files, html_files
from playwright.sync_api import expect
from tankfoot.site.freezer import write_worker
from test_offline import ASK_FOR_A_NEW_VERSION, KEPT_ADDRESSES, READY, keep, offered

MOST_REQUESTS = 10  # of a first visit; the project's own aim, no source
NOT_KEPT = re.compile("Not kept on this phone yet")
LATER = "<!-- a later version -->"
SAID = """new MutationObserver(() => {
  const line = document.querySelector("[data-kept]")?.textContent;
  window.said ??= [];
  if (line && line !== said.at(-1)) said.push(line);
}).observe(document, { subtree: true, childList: true, characterData: true });"""


# On a line as slow as in a cellar the page's thread has its file long before the app is kept; here it may not.
AS_ON_A_SLOW_LINE = """const register = ServiceWorkerContainer.prototype.register;
ServiceWorkerContainer.prototype.register = async function (...all) {
  await new Promise((resolve) => { setTimeout(resolve, 1500); });
  return register.apply(this, all);
};"""


@pytest.fixture
def copied(site, tmp_path):
    """A copy of the frozen site, to be changed."""
    return shutil.copytree(site, tmp_path / "copied")


def whole(page, server):
    (kept,) = page.evaluate(KEPT_ADDRESSES)
    return {address.removeprefix(server.address) or "./" for address in kept} == files(server.folder)


def counted(server, page):
    """How often each file was asked for until the page said that all are kept, and some time after."""
    page.wait_for_timeout(500)
    return Counter(server.asked)


def test_a_first_visit_asks_for_few_files_and_for_none_twice(keeping_phone, serve, site, tell):
    server = serve(site)
    keeping_phone.add_init_script(AS_ON_A_SLOW_LINE)
    page = keeping_phone.new_page()
    keep(page, server.address)
    asked = counted(server, page)
    tell(f"requests of a first visit: {asked.total()} (at most {MOST_REQUESTS})")
    assert asked[f"/{PACK}"] == 1
    assert asked.total() <= MOST_REQUESTS, asked
    assert set(asked.values()) == {1}, asked
    assert whole(page, server)


def test_the_app_begins_to_come_before_the_scripts_of_the_page_are_there(keeping_phone, serve, site):
    server = serve(site)
    server.faults["/js/base.js"] = 500
    page = keeping_phone.new_page()
    page.goto(server.address)
    page.wait_for_timeout(500)
    assert f"/{PACK}" in server.asked


def test_a_kept_page_has_the_type_and_the_words_of_its_file(keeping_phone, serve, site):
    server = serve(site)
    page = keeping_phone.new_page()
    keep(page, server.address)
    kept = """async (path) => {
      const found = await caches.match(path);
      return [found.headers.get("Content-Type"), await found.text()];
    }"""
    for path, type in {
        "about/": "text/html", "assets/demo/record.json": "application/json", "tankfoot.webmanifest":
        "application/manifest+json", "assets/icons/icon.svg": "image/svg+xml",  # Source: W3C, Web App Manifest; SVG 2
    }.items():
        found, text = page.evaluate(kept, server.address + path)
        assert found.split(";")[0] == type
        file = site / path / "index.html" if path.endswith("/") else site / path
        assert text == file.read_text(encoding="utf-8")


# Source: the .lzma file format, which Python's own lzma reads.
def test_the_pack_has_every_file_that_the_first_page_does_not_ask_for_itself(site):
    head, _, rest = lzma.decompress((site / PACK).read_bytes(), format=lzma.FORMAT_ALONE).partition(b"\n")
    names = set()
    for name, _, length in json.loads(head):
        file, rest = rest[:length], rest[length:]
        path = site / name / "index.html" if name.endswith("/") else site / name
        assert file == path.read_bytes(), name
        names.add(name)
    assert rest == b""
    scripts = set(re.findall(r'<script [^>]*src="([^"]+)"', (site / "index.html").read_text(encoding="utf-8")))
    assert "js/base.js" in scripts
    sheets = {"assets/css/tankfoot.css", "assets/css/print.css"}
    assert names == files(site) - scripts - sheets - {"js/browser/storage/journal_worker.js"}


def test_the_line_says_how_far_it_is(keeping_phone, serve, site):
    server = serve(site)
    keeping_phone.add_init_script(SAID)
    page = keeping_phone.new_page()
    keep(page, server.address)
    size = round((site / PACK).stat().st_size / 1000)
    told = [re.search(r"(\d+) of (\d+) kB", line) for line in page.evaluate("said")]
    steps = [(int(one[1]), int(one[2])) for one in told if one]
    assert steps and all(of == size for _, of in steps), page.evaluate("said")
    assert steps == sorted(steps) and steps[-1][0] <= size


def test_the_pack_is_enough_where_a_file_alone_is_not_to_be_had(keeping_phone, serve, site):
    server = serve(site)
    server.faults["/checklists/"] = 500
    page = keeping_phone.new_page()
    keep(page, server.address)
    assert whole(page, server)


# Source: LZMA specification, 2015: a head is (pb * 5 + lp) * 9 + lc, the dictionary's size and a length, -1 where the
# file does not tell it: no time and no system.
@pytest.mark.parametrize("path", [PACK, f"es/{PACK}"])
def test_the_pack_does_not_tell_on_which_system_or_when_it_was_made(site, path):
    assert (site / path).read_bytes()[:13] == bytes([3]) + struct.pack("<Iq", 2**22, -1)


def one_byte_wrong(data):
    middle = len(data) // 2
    return data[:middle] + bytes([data[middle] ^ 1]) + data[middle + 1 :]


def damaged(folder, how=one_byte_wrong):
    pack = folder / PACK
    pack.write_bytes(how(pack.read_bytes()))


@pytest.mark.parametrize("how", [
    pytest.param(one_byte_wrong, id="a byte wrong"),
    pytest.param(lambda data: data[:-1], id="a byte short"),
    pytest.param(lambda data: data + b"x", id="a byte more"),
    pytest.param(lambda data: data * 20, id="far too long"),
    pytest.param(lambda _: b"<!doctype html>", id="a page"),
])
def test_a_pack_that_is_damaged_is_not_taken_and_each_file_comes_alone(keeping_phone, serve, copied, how):
    damaged(copied, how)
    server = serve(copied)
    page = keeping_phone.new_page()
    keep(page, server.address)
    asked = counted(server, page)
    assert asked[f"/{PACK}"] == 1 and len(asked) > len(files(copied))
    assert whole(page, server)


def test_what_could_not_be_kept_is_said_and_fetched_again_by_itself(keeping_phone, serve, copied, site):
    damaged(copied)
    server = serve(copied)
    server.faults["/checklists/"] = 500
    page = keeping_phone.new_page()
    page.clock.install()
    page.goto(server.address)
    expect(page.locator("[data-kept]").first).to_have_text(NOT_KEPT)
    assert page.evaluate("() => caches.keys()") == []
    del server.faults["/checklists/"]
    server.swap(site)
    page.clock.run_for(61_000)
    expect(page.locator("[data-kept]").first).to_have_text(READY)
    assert whole(page, server)


def test_without_room_on_the_phone_nothing_half_is_kept(keeping_phone, serve, copied):
    worker = copied / "sw.js"
    full = """const put = Cache.prototype.put;
let room = 20;
Cache.prototype.put = function (...all) {
room -= 1;
return room < 0 ? Promise.reject(new DOMException("full", "QuotaExceededError")) : put.apply(this, all);
};
"""
    worker.write_text(full + worker.read_text(encoding="utf-8"), encoding="utf-8")
    server = serve(copied)
    page = keeping_phone.new_page()
    page.goto(server.address)
    expect(page.locator("[data-kept]").first).to_have_text(NOT_KEPT)
    assert page.evaluate("() => caches.keys()") == []


def test_a_browser_that_has_no_decompression_of_its_own_opens_the_pack_too(keeping_phone, serve, copied):
    worker = copied / "sw.js"
    worker.write_text("delete self.DecompressionStream;\n" + worker.read_text(encoding="utf-8"), encoding="utf-8")
    server = serve(copied)
    page = keeping_phone.new_page()
    keep(page, server.address)
    assert counted(server, page)[f"/{PACK}"] == 1
    assert whole(page, server)


def changed(folder, *paths):
    for path in paths:
        path.write_text(path.read_text(encoding="utf-8").replace("</body>", f"{LATER}</body>"), encoding="utf-8")
    write_worker(folder)


def test_an_update_of_one_file_fetches_that_file_alone(keeping_phone, serve, site, copied):
    server = serve(site)
    page = keeping_phone.new_page()
    keep(page, server.address)
    changed(copied, copied / "about" / "index.html")
    server.asked.clear()
    server.swap(copied)
    page.evaluate(ASK_FOR_A_NEW_VERSION)
    expect(offered(page)).to_be_visible()
    asked = counted(server, page)
    assert set(asked) == {"/sw.js", "/about/"}
    assert (copied / "about" / "index.html").stat().st_size < (copied / PACK).stat().st_size
    expect(page.locator("[data-kept]").first).to_have_text(READY)
    with page.expect_navigation():
        offered(page).get_by_role("button").click()
    page.wait_for_function("async () => (await caches.keys()).length === 1")
    assert whole(page, server)
    page.goto(f"{server.address}about/")
    assert LATER in page.content()


def test_an_update_of_every_page_fetches_the_pack(keeping_phone, serve, site, copied):
    server = serve(site)
    page = keeping_phone.new_page()
    keep(page, server.address)
    changed(copied, *html_files(copied))
    server.asked.clear()
    server.swap(copied)
    page.evaluate(ASK_FOR_A_NEW_VERSION)
    expect(offered(page)).to_be_visible()
    assert set(counted(server, page)) == {"/sw.js", f"/{PACK}"}


# Source: W3C, Content Security Policy 3, 8.1: of several policies each must allow a script.
def test_a_host_that_allows_no_script_inside_a_page_leaves_an_app_that_works(keeping_phone, serve, site):
    server = serve(site)
    server.headers["Content-Security-Policy"] = "script-src 'self'"
    page = keeping_phone.new_page()
    keep(page, server.address)
    assert whole(page, server)
    page.goto(f"{server.address}calculators/purge-volume/")
    page.locator("[data-calculator][data-ready]").wait_for()


def test_a_header_of_the_host_stays_with_the_packed_pages(keeping_phone, serve, site):
    server = serve(site)
    server.headers["Content-Security-Policy"] = "frame-ancestors 'none'"
    page = keeping_phone.new_page()
    keep(page, server.address)
    server.stop()
    answer = page.goto(f"{server.address}about/")
    assert answer.from_service_worker
    assert answer.headers["content-security-policy"] == "frame-ancestors 'none'"
    server.start()
