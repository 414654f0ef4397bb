"""The frozen files and what a person sees of them, with and without JavaScript."""

import filecmp
import json
import re
import struct
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import unquote, urljoin, urlsplit

import pytest
from browsers import PHONE
from frozen import calculator_pages, checklist_pages, files, html_files, pages
from playwright.sync_api import expect
from tankfoot.checklists import cards, checklists
from tankfoot.site.freezer import freeze

ROOT = "http://site.invalid/"
URL_ATTRIBUTES = {"href", "src", "action", "data", "poster", "formaction", "srcset"}


class Parsed(HTMLParser):
    """The start tags of one page in their order, and the ids on it."""

    def __init__(self, text):
        super().__init__()
        self.tags, self.ids = [], set()
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        attributes = dict(attrs)
        self.tags.append((tag, attributes))
        self.ids |= {attributes["id"]} if "id" in attributes else set()

    handle_startendtag = handle_starttag


@pytest.fixture(scope="session")
def parsed(site):
    """{address of the file: its tags}"""
    texts = {path.relative_to(site).as_posix(): path.read_text(encoding="utf-8") for path in html_files(site)}
    return {address: Parsed(text) for address, text in texts.items()}


def test_two_builds_are_the_same_to_the_byte(site, tmp_path):
    freeze(tmp_path)
    ours = {path.relative_to(site) for path in site.rglob("*") if path.is_file()}
    assert ours == {path.relative_to(tmp_path) for path in tmp_path.rglob("*") if path.is_file()}
    _, different, unreadable = filecmp.cmpfiles(site, tmp_path, ours, shallow=False)
    assert (different, unreadable) == ([], [])


def test_the_worker_keeps_every_file_but_itself(site):
    worker = (site / "sw.js").read_text(encoding="utf-8")
    listed = re.search(r"const FILES = (\{.*?\});", worker, re.DOTALL).group(1)
    assert set(json.loads(listed)) == files(site)


def test_the_policy_stands_before_any_script_or_link(parsed):
    for address, page in parsed.items():
        kinds = [
            "policy" if attributes.get("http-equiv") == "Content-Security-Policy" else tag
            for tag, attributes in page.tags
        ]
        first = min(kinds.index(tag) for tag in ("script", "link", "img", "style") if tag in kinds)
        assert kinds.index("policy") < first, address


def test_the_policy_allows_this_origin_alone(parsed):
    (policy,) = {
        attributes["content"]
        for page in parsed.values()
        for _, attributes in page.tags
        if attributes.get("http-equiv") == "Content-Security-Policy"
    }
    rules = dict(rule.split(maxsplit=1) for rule in map(str.strip, policy.split(";")))
    assert rules["default-src"] == "'none'"
    assert rules["script-src"] == rules["style-src"] == rules["connect-src"] == "'self'"
    assert rules["require-trusted-types-for"] == "'script'"
    assert not re.search(r"unsafe|https?:|\*", policy)


def test_nothing_is_written_inline(parsed):
    for address, page in parsed.items():
        for tag, attributes in page.tags:
            assert tag != "style", address
            assert tag != "script" or attributes.get("src"), address
            handlers = [name for name in attributes if name == "style" or name.startswith("on")]
            assert not handlers, (address, tag)


def test_every_address_is_relative_and_leads_somewhere(parsed, site):
    known = files(site) | {"sw.js"}
    for address, page in parsed.items():
        for tag, attributes in page.tags:
            for name in URL_ATTRIBUTES & set(attributes):
                check_address(attributes[name], address, parsed, known, tag)


def check_address(url, address, parsed, known, tag):
    parts = urlsplit(url)
    if tag == "a" and parts.scheme in ("tel", "mailto"):
        return
    assert not parts.scheme and not parts.netloc and not url.startswith("/"), (address, url)
    here = ROOT + re.sub(r"(^|/)index\.html$", r"\1", address)
    target = unquote(urljoin(here, parts.path).removeprefix(ROOT))
    assert (target or "./") in known, (address, url)
    if parts.fragment and not target.startswith("calculators/"):
        file = "index.html" if not target else f"{target}index.html" if target.endswith("/") else target
        assert parts.fragment in parsed[file].ids, (address, url)


def test_no_file_names_another_origin(site):
    # An XML namespace is a name, not an address; a source may cite one.
    for path in site.rglob("*"):
        if path.suffix in (".js", ".css", ".webmanifest"):
            found = re.findall(r"(?:https?:)?//[\w.-]+\.\w+[^\s\"')]*", path.read_text(encoding="utf-8"))
            assert [url for url in found if "www.w3.org" not in url] == [], path


@dataclass
class Visit:
    """What came up while every page was opened once on a phone."""

    asked: list = field(default_factory=list)
    complaints: list = field(default_factory=list)
    too_wide: list = field(default_factory=list)
    too_small: list = field(default_factory=list)


@pytest.fixture(scope="module")
def visit(chromium, served, site):
    """A walk through all pages, with their folds open."""
    found = Visit()
    context = chromium.new_context(**PHONE)
    context.on("request", lambda request: found.asked.append(request.url))
    context.on("weberror", lambda wrong: found.complaints.append(str(wrong.error)))
    context.on("console", lambda line: found.complaints.append(line.text) if line.type == "error" else None)
    page = context.new_page()
    for address in [*pages(site), "404.html"]:
        page.goto(served.address + address)
        page.evaluate("() => document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        found.too_small += [(address, small) for small in page.evaluate(TOO_SMALL)]
        found.too_wide += [(address, *wide) for wide in _too_wide(page)]
    context.close()
    return found


WIDTHS = ((320, "100%"), (360, "100%"), (390, "100%"), (360, "200%"))  # of the screen in CSS px, of the text
WIDER_THAN_THE_SCREEN = """(textSize) => {
  const root = document.documentElement;
  root.style.fontSize = textSize;
  return root.scrollWidth - root.clientWidth;
}"""


def _too_wide(page):
    for width, text_size in WIDTHS:
        page.set_viewport_size({"width": width, "height": 844})
        beyond = page.evaluate(WIDER_THAN_THE_SCREEN, text_size)
        if beyond > 0:
            yield width, text_size, beyond
    page.evaluate(WIDER_THAN_THE_SCREEN, "100%")


# A link inside a sentence is as high as its line: WCAG 2.2, 2.5.8, exception "inline".
TOO_SMALL = """() => [...document.querySelectorAll("a, button, summary, input, select, textarea")]
  .filter((one) => one.checkVisibility() && !one.matches(".skip, [type=file], [type=hidden]"))
  .filter((one) => !(one.matches("p a, li a, dd a") && getComputedStyle(one).display === "inline"))
  .map((one) => {
    const target = one.matches("[type=radio], [type=checkbox]") ? one.closest("label") ?? one : one;
    const { width, height } = target.getBoundingClientRect();
    const least = one.matches("button, input, select, textarea") ? 56 : 44;
    return { what: one.outerHTML.slice(0, 90), width, height, least };
  })
  .filter(({ width, height, least }) => Math.min(width, height) < least - 0.5)"""


def test_every_page_asks_this_origin_only(visit, served, site):
    assert len(visit.asked) > len(pages(site))
    assert [url for url in visit.asked if not url.startswith((served.address, "blob:", "data:"))] == []


def test_no_page_complains(visit):
    assert visit.complaints == []


def test_no_page_is_wider_than_the_screen(visit):
    assert visit.too_wide == []


def test_every_target_can_be_hit_with_a_thumb(visit):
    # Source: design, 56 px for form controls; WCAG 2.2, 2.5.5 (AAA): 44 px for all else.
    assert visit.too_small == []


SHOWN = """() => Object.fromEntries([...document.querySelectorAll("main [data-result]")].map((place) =>
  [place.dataset.result, [".name", "[data-text]", "[data-spread]"]
    .map((part) => place.querySelector(part).textContent.trim()).join(" | ")]
))"""
REMARKS = "() => document.querySelector('[data-remarks]').textContent.replace(/\\s+/g, ' ').trim()"
TYPED = "() => [...document.querySelectorAll('main [data-entry]')].map((entry) => entry.value)"
UNITS = "() => [...document.querySelectorAll('main [data-unit]')].map((unit) => unit.value)"


def test_the_script_shows_what_was_frozen_to_the_character(chromium, served, site):
    without = chromium.new_context(java_script_enabled=False)
    with_script = chromium.new_context(service_workers="block")
    frozen, live = without.new_page(), with_script.new_page()
    assert calculator_pages(site)
    for address in calculator_pages(site).values():
        frozen.goto(served.address + address)
        live.goto(served.address + address)
        live.locator("main[data-ready]").wait_for()
        for look in (SHOWN, REMARKS, TYPED, UNITS):
            assert frozen.evaluate(look) == live.evaluate(look), address
    without.close()
    with_script.close()


def test_every_checklist_and_card_can_be_read_without_javascript(chromium, served, site):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    for id, address in checklist_pages(site).items():
        page.goto(served.address + address)
        text = page.locator("main").inner_text()
        for part in checklists()[id].parts:
            for line in part.lines:
                assert line.act in text and line.value in text, (id, line.id)
    for id, card in cards().items():
        page.goto(f"{served.address}emergency/{id}/")
        text = page.locator("main").inner_text()
        assert all(act.act in text for act in card.acts)
        assert all(advice.line in text for advice in (*card.never, *card.then))
    context.close()


def png_size(path):
    """Source: W3C PNG specification, 11.2.2: width and height are the first 8 bytes of the header's data."""
    data = path.read_bytes()
    assert data[:8] == b"\x89PNG\r\n\x1a\n" and data[12:16] == b"IHDR"
    return struct.unpack(">II", data[16:24])


def test_the_manifest_is_whole(site):
    manifest = json.loads((site / "tankfoot.webmanifest").read_text(encoding="utf-8"))
    # Source: W3C Web Application Manifest, members that make an app installable.
    members = {"id", "scope", "start_url", "name", "short_name", "display", "lang", "background_color"}
    assert {member for member in members if not manifest.get(member)} == set()
    for icon in manifest["icons"]:
        path = site / icon["src"]
        if icon["sizes"] != "any":
            assert "{}x{}".format(*png_size(path)) == icon["sizes"]
        assert path.is_file()
    purposes = [(icon["purpose"], icon["sizes"]) for icon in manifest["icons"]]
    assert {("any", "192x192"), ("any", "512x512"), ("maskable", "512x512")} <= set(purposes)
    assert {shortcut["url"] for shortcut in manifest["shortcuts"]} <= set(pages(site))


def test_the_apple_icon_has_its_size(parsed, site):
    for _, attributes in parsed["index.html"].tags:
        if attributes.get("rel") == "apple-touch-icon":
            # Source: Apple, Configuring Web Applications: 180 x 180 for a phone.
            assert png_size(site / attributes["href"]) == (180, 180)
            return
    raise AssertionError("no apple-touch-icon")


def calculator(page, served, id, fragment=""):
    page.goto(f"{served.address}calculators/{id}/{fragment}")
    page.locator("main[data-ready]").wait_for()


def entry(page, name):
    return page.locator(f"[data-field={name}] [data-entry]")


def unit(page, name):
    return page.locator(f"[data-field={name}] [data-unit]")


def shown(page, name):
    return page.locator(f"[data-result={name}] [data-text]")


def test_each_keystroke_is_answered(phone, served):
    page = phone.new_page()
    calculator(page, served, "colour-change-saving")
    for name in ("overrun_usual", "overrun_now", "flow"):
        entry(page, name).fill("0")
    assert page.locator("form [type=submit]").count() == 0
    entry(page, "overrun_usual").fill("60")
    entry(page, "flow").focus()
    # Source: by hand, 1, 12 and 12.5 gal/min for one minute.
    for key, text in (("1", "1"), ("2", "12"), (".", "12"), ("5", "12.5")):
        page.keyboard.type(key)
        expect(shown(page, "saved_per_purge")).to_have_text(re.compile(rf"{re.escape(text)}(\.?0*) gal"))


def test_a_refused_text_is_said_at_its_field_and_leaves_no_number(phone, served):
    page = phone.new_page()
    calculator(page, served, "purge-volume")
    entry(page, "headspace").fill("abc")
    expect(page.locator("[data-field=headspace] [data-problem]")).to_contain_text("Headspace")
    expect(entry(page, "headspace")).to_have_attribute("aria-invalid", "true")
    expect(shown(page, "volume_lost")).to_have_text("–")


def test_another_unit_keeps_the_typed_number_and_is_remembered(phone, served):
    page = phone.new_page()
    calculator(page, served, "purge-volume")
    entry(page, "headspace").fill("300")
    unit(page, "headspace").select_option("L")
    expect(entry(page, "headspace")).to_have_value("300")
    calculator(page, served, "co2-top-up")
    expect(unit(page, "headspace")).to_have_value("L")


def test_another_system_turns_the_numbers_and_is_remembered(phone, served):
    page = phone.new_page()
    calculator(page, served, "purge-volume")
    entry(page, "headspace").fill("10")
    page.locator("[name=system][value=metric]").check(force=True)
    expect(unit(page, "headspace")).to_have_value("hL")
    # Source: by hand, 10 US beer barrels of 31 gal of 3.785411784 L are 11.7348 hL (27 CFR 25.11).
    expect(entry(page, "headspace")).to_have_value("11.735")
    calculator(page, served, "co2-top-up")
    expect(unit(page, "headspace")).to_have_value("hL")
    expect(page.locator("[name=system][value=metric]")).to_be_checked()


def test_the_address_brings_a_sum_back(phone, served, chromium):
    page = phone.new_page()
    calculator(page, served, "colour-change-saving")
    for name, number in {"flow": "7", "overrun_usual": "60", "overrun_now": "0"}.items():
        entry(page, name).fill(number)
    text, fragment = shown(page, "saved_per_purge").inner_text(), "#" + page.url.partition("#")[2]
    # Source: by hand, 7 gal/min for a minute.
    assert re.fullmatch(r"7(\.0+)? gal", text)
    page.reload()
    expect(shown(page, "saved_per_purge")).to_have_text(text)
    elsewhere = chromium.new_page()
    calculator(elsewhere, served, "colour-change-saving", fragment)
    expect(shown(elsewhere, "saved_per_purge")).to_have_text(text)
    expect(entry(elsewhere, "flow")).to_have_value("7")
    elsewhere.close()
