"""The lists and cards on paper: one sheet each, large enough to read, with a code that leads to the right page."""

import io
import re
from collections import Counter
from html import unescape
from html.parser import HTMLParser

import pypdf
import pytest
import zxingcpp
from browsers import chromium_options
from frozen import html_files
from PIL import Image
from tankfoot.checklists import cards, checklists
from tankfoot.cli import main
from tankfoot.site import printing
from tankfoot.site.printing import sheets_html, with_own_ids
from tankfoot.site.qr import LONGEST, AddressError, qr, site_root

ADDRESS = "https://cellar.example.org/tankfoot/"
SHEETS = [f"emergency/{name}/" for name in cards()] + [f"checklists/{name}/" for name in checklists()]
# ISO 216: A5 is 148 x 210 mm. Half of an ANSI A sheet (ANSI/ASME Y14.1) is 5.5 x 8.5 in. A point is 1/72 in.
SIZES = {"a5": (148 / 25.4 * 72, 210 / 25.4 * 72), "half-letter": (5.5 * 72, 8.5 * 72)}
TITLES = [made.title for made in (*cards().values(), *checklists().values())]


def spread(text):
    return re.sub(r"\s", "", text)


@pytest.mark.parametrize("paper", SIZES)
def test_all_lists_and_cards_make_one_pdf_of_one_sheet_each(paper, tmp_path, playwright, monkeypatch, capsys):
    browser = chromium_options(playwright)["executable_path"]
    monkeypatch.setattr(printing, "chromium", lambda: browser)
    assert main(["print", "--paper", paper, "--output", str(tmp_path), "--address", ADDRESS]) == 0
    made = pypdf.PdfReader(tmp_path / "tankfoot-sheets.pdf")
    assert capsys.readouterr().out == f"{tmp_path / 'tankfoot-sheets.pdf'}\n"
    assert len(made.pages) == len(TITLES) == 19
    for page, title in zip(made.pages, TITLES, strict=True):
        assert (page.mediabox.width, page.mediabox.height) == pytest.approx(SIZES[paper], abs=1)
        assert spread(title) in spread(page.extract_text())
        assert spread("Site procedures and the emergency services come first.") in spread(page.extract_text())


class Names(HTMLParser):
    """The ids of a page, and the names that its attributes refer to: (attribute, names)."""

    # Source: the attributes of type ID reference in the HTML Living Standard and in WAI-ARIA 1.2 (from memory).
    RELATIONS = (
        "for", "headers", "list", "form", "aria-labelledby", "aria-describedby", "aria-controls", "aria-details",
        "aria-owns", "aria-flowto", "aria-activedescendant", "aria-errormessage",
    )

    def __init__(self, html):
        super().__init__()
        self.ids, self.references = Counter(), []
        self.feed(html)

    def handle_starttag(self, tag, attributes):
        for key, value in attributes:
            if key == "id":
                self.ids[value] += 1
            elif key in self.RELATIONS:
                self.references.append((key, value.split()))
            elif key in ("href", "xlink:href") and value.startswith("#"):
                self.references.append((key, [value[1:]]))
            elif found := re.findall(r"url\(['\"]?#([^'\")]+)", value or ""):
                self.references.append(("url", found))


def test_every_reference_in_the_file_of_all_sheets_leads_to_exactly_one_id():
    names = Names(sheets_html(address=ADDRESS))
    assert [name for name, times in names.ids.items() if times > 1] == []
    assert [(key, name) for key, each in names.references for name in each if names.ids[name] != 1] == []
    assert {"for", "aria-labelledby", "aria-describedby", "url"} <= {key for key, _ in names.references}
    assert any(len(each) > 1 for _, each in names.references)


@pytest.mark.parametrize("html", [
    '<i id="one"></i><i id="two"></i><p aria-labelledby="one two"></p>',
    '<i id="for"></i><label for="for"></label>',
    '<i id="one"></i><a href="#one"></a><use xlink:href="#one"/><use href="#one"/>',
    """<i id="one"></i><rect fill="url(#one)"/><g style="clip-path: url('#one')"></g>""",
    '<i id="one"></i><p aria-errormessage="one"></p>',
])
def test_a_reference_follows_the_id_it_names(html):
    renamed = Names(with_own_ids(html, 3))
    assert set(renamed.ids) == {f"{name}-3" for name in Names(html).ids}
    assert [name for _, each in renamed.references for name in each if name not in renamed.ids] == []
    assert len(renamed.references) == len(Names(html).references) > 0


def test_a_link_to_another_page_and_a_name_that_is_no_id_stay_as_they_are():
    html = '<a href="../settings/#emergency" data-id="one" aria-label="one two" fill="#000">url</a>'
    assert with_own_ids(html, 3) == html


SMALLEST = """() => {
  const texts = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  const sizes = [];
  while (texts.nextNode()) {
    const one = texts.currentNode.parentElement;
    if (!texts.currentNode.data.trim() || !one.checkVisibility() || one.matches("title, desc, script")) continue;
    sizes.push(parseFloat(getComputedStyle(one).fontSize) * (one.getScreenCTM?.().a ?? 1));
  }
  const first = document.querySelector(".acts strong");
  return [Math.min(...sizes), first ? parseFloat(getComputedStyle(first).fontSize) : null];
}"""
PT = 96 / 72  # CSS pixels


@pytest.fixture(scope="module")
def paper_pages(chromium, served):
    """{address: (pages, smallest text in pt, first act in pt)} of what a browser prints of the app itself."""
    context = chromium.new_context(service_workers="block")
    page = context.new_page()
    found = {}
    for address in SHEETS:
        page.goto(served.address + address)
        page.emulate_media(media="print")
        smallest, first = page.evaluate(SMALLEST)
        printed = pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True, print_background=True)))
        found[address] = len(printed.pages), smallest / PT, first and first / PT
        page.emulate_media(media="screen")
    context.close()
    return found


def test_each_page_of_the_app_prints_on_one_sheet(paper_pages):
    assert {address: pages for address, (pages, *_) in paper_pages.items() if pages != 1} == {}


def test_no_text_on_paper_is_smaller_than_nine_points_and_the_first_act_is_large(paper_pages):
    assert {address: size for address, (_, size, _) in paper_pages.items() if size < 9 - 0.01} == {}
    assert {address for address, (_, _, first) in paper_pages.items() if first and first >= 24} == set(SHEETS[:6])


def test_a_card_with_a_long_address_and_three_numbers_still_prints_on_one_sheet(phone, served):
    own = [{"label": "Site safety officer, on call", "number": "+44 7700 900 123"}] * 3
    site = {"name": "N" * 60, "address": "Gate B " * 22, "numbers": own}
    page = phone.new_page()
    page.goto(f"{served.address}about/")
    page.evaluate(
        'async ([url, it]) => (await import(url)).take("browser/storage/settings.js").saveSettings(it)',
        [served.script, {"region": "South Africa", "site": site}],
    )
    for name in cards():
        page.goto(f"{served.address}emergency/{name}/")
        page.locator("main[data-ready]").wait_for()
        printed = pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True)))
        assert len(printed.pages) == 1, name
        assert spread("112") in spread(printed.pages[0].extract_text())
        assert "____" not in printed.pages[0].extract_text()


def read(png):
    return [found.text for found in zxingcpp.read_barcodes(Image.open(io.BytesIO(png)).convert("L"))]


def test_every_code_leads_to_its_own_page(chromium, tmp_path):
    # Source: ZXing, an independent reader of ISO/IEC 18004 codes, looks at what the browser drew.
    (tmp_path / "sheets.html").write_text(sheets_html(address=ADDRESS), encoding="utf-8")
    context = chromium.new_context(device_scale_factor=3)
    page = context.new_page()
    page.emulate_media(media="print")
    page.goto((tmp_path / "sheets.html").as_uri())
    codes = [read(code.screenshot()) for code in page.locator("svg.qr").all()]
    widths = page.locator("svg.qr").evaluate_all("(all) => all.map((one) => one.getBoundingClientRect().width)")
    context.close()
    assert codes == [[ADDRESS + address] for address in SHEETS]
    # A module of a third of a millimetre and more is read at a hand's length: common practice, no source.
    modules = int(re.search(r'viewBox="0 0 (\d+)', qr(ADDRESS + max(SHEETS, key=len)))[1])
    assert min(widths) / 96 * 25.4 / modules >= 0.33


def test_without_an_address_there_is_no_code_and_the_sheet_says_why(site, tmp_path, capsys):
    for path in html_files(site):
        assert 'class="qr"' not in path.read_text(encoding="utf-8"), path
    card = unescape((site / SHEETS[0] / "index.html").read_text(encoding="utf-8"))
    assert "No QR code: the site's address was not given to the build (--address)." in card
    assert main(["print", "--output", str(tmp_path / "sheets.html")]) == 0
    assert "give --address" in capsys.readouterr().out
    assert 'class="qr"' not in (tmp_path / "sheets.html").read_text(encoding="utf-8")


def test_a_build_with_an_address_has_a_code_on_each_list_and_card_and_nowhere_else(tmp_path):
    assert main(["build", "--output", str(tmp_path), "--address", ADDRESS.rstrip("/")]) == 0
    with_code = {
        path.parent.relative_to(tmp_path).as_posix() + "/" for path in html_files(tmp_path)
        if 'class="qr"' in path.read_text(encoding="utf-8")
    }
    assert with_code == set(SHEETS)


# A phone keeps the app from https alone (W3C Service Workers, secure contexts): no other address is of use on paper.
@pytest.mark.parametrize(
    "wrong", ["cellar.example", "http://cellar.example/", "https://", "https://a.example/#x", "tel:1", "https://[", "https://a.example:x/",
     "https://a.example/\n", "https://a.example/\tb", "https://a.example/\u2028", "https://a.example/\udcff",
     f"https://a.example/{'b' * 2000}"],
)
def test_an_address_that_no_phone_could_open_is_refused(wrong, tmp_path, capsys):
    with pytest.raises(AddressError):
        site_root(wrong)
    assert main(["print", "--output", str(tmp_path / "x.pdf"), "--address", wrong]) == 2
    said = capsys.readouterr().err
    assert "https://" in said
    assert len(said) < 200
    assert said.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_without_a_chromium_the_sheets_come_as_html_and_that_is_said(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(printing, "chromium", lambda: None)
    assert main(["print", "--output", str(tmp_path / "sheets.pdf"), "--address", ADDRESS]) == 0
    assert [path.name for path in tmp_path.iterdir()] == ["sheets.html"]
    assert "No Chromium found" in capsys.readouterr().out


def test_a_browser_that_prints_nothing_is_reported(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(printing, "chromium", lambda: "/bin/false")
    assert main(["print", "--output", str(tmp_path / "sheets.pdf")]) == 1
    assert "printed nothing" in capsys.readouterr().err


def test_every_list_and_card_is_dated_and_its_sheet_names_the_version(site):
    for made, address in zip((*cards().values(), *checklists().values()), SHEETS, strict=True):
        sheet = (site / address / "index.html").read_text(encoding="utf-8").split('class="sheet"')[1]
        assert made.version in sheet
        assert f"{made.dated.day} {made.dated.strftime('%B %Y')}" in sheet


def test_the_longest_address_still_fits_a_code():
    address = site_root("https://a.example/" + "b" * (LONGEST - 19) + "/")
    assert len(address) == LONGEST
    for path in SHEETS:
        assert "<svg" in qr(address + path)
    with pytest.raises(AddressError):
        site_root(address[:-1] + "b/")
