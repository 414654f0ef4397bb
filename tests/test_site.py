"""The frozen files: their addresses, their policy, what the phone is told of the app."""

import base64
import filecmp
import hashlib
import json
import re
import struct
from html.parser import HTMLParser
from urllib.parse import unquote, urljoin, urlsplit

import pytest
from frozen import files, pages
from tankfoot.site.freezer import freeze, freeze_one
from tankfoot.wording.languages import languages

ROOT = "http://site.invalid/"
INLINE = re.compile(r"<script(?:(?! src=)[^>])*>([^<]+)</script>")
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
    """{address of the file: its tags}, in all languages."""
    found = sorted(site.rglob("*.html"))
    texts = {path.relative_to(site).as_posix(): path.read_text(encoding="utf-8") for path in found}
    return {address: Parsed(text) for address, text in texts.items()}


def test_two_builds_are_the_same_to_the_byte(site, tmp_path):
    freeze(tmp_path)
    ours = {path.relative_to(site) for path in site.rglob("*") if path.is_file()}
    assert ours == {path.relative_to(tmp_path) for path in tmp_path.rglob("*") if path.is_file()}
    _, different, unreadable = filecmp.cmpfiles(site, tmp_path, ours, shallow=False)
    assert (different, unreadable) == ([], [])


def test_a_language_leaves_the_files_of_another_as_they_are(tmp_path):
    of_another = tmp_path / "es" / "assets" / "css" / "tankfoot.css"  # which a process of its own may be writing
    of_another.parent.mkdir(parents=True)
    of_another.write_text("a { top: 0 }\n", encoding="utf-8")
    freeze_one(tmp_path)
    assert of_another.read_text(encoding="utf-8") == "a { top: 0 }\n"
    assert (tmp_path / "assets" / "css" / "tankfoot.css").is_file()


def test_the_worker_keeps_every_file_but_itself(site):
    worker = (site / "sw.js").read_text(encoding="utf-8")
    listed = re.search(r"const FILES=(\{.*?\});", worker, re.DOTALL).group(1)
    assert set(json.loads(listed)) == files(site)


def test_the_policy_stands_before_any_script_or_link(parsed):
    for address, page in parsed.items():
        kinds = [
            "policy" if attributes.get("http-equiv") == "Content-Security-Policy" else tag
            for tag, attributes in page.tags
        ]
        first = min(kinds.index(tag) for tag in ("script", "link", "img", "style") if tag in kinds)
        assert kinds.index("policy") < first, address


# Source: W3C, Content Security Policy 3, 6.7.3.3: the digest of the element's text, as base64.
def test_the_policy_allows_this_origin_and_the_very_scripts_in_the_page_alone(parsed, site):
    for address, page in parsed.items():
        (policy,) = [
            attributes["content"]
            for _, attributes in page.tags
            if attributes.get("http-equiv") == "Content-Security-Policy"
        ]
        texts = INLINE.findall((site / address).read_text(encoding="utf-8"))
        digests = [hashlib.sha256(text.encode()).digest() for text in texts]
        assert digests
        inline = [f"'sha256-{base64.b64encode(digest).decode()}'" for digest in digests]
        rules = dict(rule.split(maxsplit=1) for rule in map(str.strip, policy.split(";")))
        assert rules["default-src"] == "'none'"
        assert rules["script-src"].split() == ["'self'", *inline]
        assert rules["style-src"] == rules["connect-src"] == "'self'"
        assert rules["require-trusted-types-for"] == "'script'"
        assert not re.search(r"unsafe|https?:|\*", policy)


def test_no_style_and_no_handler_is_written_inline(parsed):
    for address, page in parsed.items():
        for tag, attributes in page.tags:
            assert tag != "style", address
            handlers = [name for name in attributes if name == "style" or name.startswith("on")]
            assert not handlers, (address, tag)


def test_every_address_is_relative_and_leads_somewhere(parsed, site):
    others = {f"{name}/{file.removeprefix('./')}" for name in languages()[1:] for file in files(site / name)}
    known = files(site) | others | {"sw.js"}
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
