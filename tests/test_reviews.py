"""Who reviewed a list, and when: in the record, on the page and on paper, with the version that it was for."""

import io

import pypdf
from playwright.sync_api import expect
from tankfoot.checklists import checklists
from tankfoot.record.entry import check_entry
from test_own_lists import copied, entries, opened, save

PORT = checklists()["before-opening-the-bottom-port"]


def review(page, by, on="2026-03-02"):
    fold = page.locator("[data-reviews]")
    if fold.get_attribute("open") is None:
        fold.locator("summary").click()
    fold.get_by_label("Who reviewed it").fill(by)
    fold.get_by_label("On which day").fill(on)
    fold.get_by_role("button", name="Keep this review").click()
    return fold


def paper(page):
    """The text of the page as a browser prints it, and how many sheets it takes."""
    printed = pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True, print_background=True)))
    return " ".join(sheet.extract_text() for sheet in printed.pages).replace("\n", " "), len(printed.pages)


def test_every_list_says_that_no_authority_reviewed_it_and_so_does_its_sheet(phone, served):
    page = opened(phone.new_page(), served, f"checklists/{PORT.id}/")
    page.locator("[data-reviews] summary").click()
    expect(page.locator("[data-reviews]")).to_contain_text("No safety authority has reviewed these words.")
    text, _ = paper(page)
    assert "No safety authority has reviewed these words." in text
    page.goto(f"{served.address}about/")
    expect(page.get_by_role("main")).to_contain_text("No safety authority has reviewed its words.")


def test_a_review_is_kept_and_stands_on_page_and_paper(phone, served):
    page = opened(phone.new_page(), served, f"checklists/{PORT.id}/")
    fold = review(page, "J. Doe, site safety")
    expect(fold.locator("[data-reviewed] li")).to_contain_text("Reviewed by J. Doe, site safety, March 2, 2026.")
    (kept,) = entries(page, "review")
    assert kept["body"] == {"list": PORT.id, "version": PORT.version, "by": "J. Doe, site safety", "on": "2026-03-02"}
    assert check_entry(kept) == []
    text, sheets = paper(page)
    assert "Reviewed by J. Doe, site safety, March 2, 2026." in text and sheets == 1
    opened(page, served, f"checklists/{PORT.id}/")
    expect(page.locator("[data-reviewed] li")).to_have_count(1)
    opened(page, served, "checklists/gas-hook-up/")
    expect(page.locator("[data-reviewed] li")).to_have_count(0)


def test_a_review_without_a_name_or_of_a_day_to_come_is_refused(phone, served):
    page = opened(phone.new_page(), served, f"checklists/{PORT.id}/")
    fold = review(page, " ")
    expect(fold.locator("[data-review-problem]")).to_contain_text("Write who reviewed it")
    review(page, "J. Doe", "2098-01-01")
    expect(fold.locator("[data-review-problem]")).to_contain_text("not later than today")
    assert entries(page, "review") == []


def test_a_review_is_taken_out_and_its_tombstone_stays(phone, served):
    page = opened(phone.new_page(), served, f"checklists/{PORT.id}/")
    fold = review(page, "J. Doe")
    fold.get_by_role("button", name="Take out").click()
    expect(fold.locator("[data-reviewed] li")).to_have_count(0)
    assert entries(page, "review") == []


def test_an_own_list_that_was_changed_was_reviewed_for_an_earlier_version(phone, served):
    page = copied(phone.new_page(), served, checklists()["solids-and-the-drain"])
    save(page)
    fold = review(page, "J. Doe")
    expect(fold.locator("[data-reviewed] li")).to_have_text("Reviewed by J. Doe, March 2, 2026. Take out")
    (first,) = entries(page, "site-list")
    page.get_by_role("link", name="Change this list").click()
    page.locator("[data-own-edit][data-ready]").wait_for()
    page.get_by_label("Title").first.fill("Drain check, cellar two")
    save(page)
    old = first["body"]["version"]
    told = f"Reviewed by J. Doe, March 2, 2026, for an earlier version ({old}) of these words."
    expect(page.locator("[data-reviewed] li")).to_contain_text(told)
    assert told in paper(page)[0]
