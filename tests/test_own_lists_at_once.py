"""An own list changed in two windows at once: nothing is saved over unseen, and nothing is lost."""

import pytest
from playwright.sync_api import expect
from test_own_lists import entries, flaws, opened, save, write_own


def edit(page, served, id):
    opened(page, served, f"checklists/own/edit/#id={id}")
    return page


def retitle(page, title):
    page.get_by_label("Title", exact=True).fill(title)


def titles(page):
    return sorted(entry["body"]["list"]["title"] for entry in entries(page, "site-list"))


@pytest.fixture
def two(phone, served):
    """The same list open in two windows: one has saved "Newer", in the other "Mine" is typed, begun before."""
    newer, mine = phone.new_page(), phone.new_page()
    write_own(newer, served)
    (entry,) = entries(newer, "site-list")
    edit(mine, served, entry["id"])
    edit(newer, served, entry["id"])
    retitle(newer, "Newer")
    retitle(mine, "Mine")
    save(newer)
    return newer, mine


def is_refused(page):
    page.locator("[data-save]").click()
    expect(page.locator("[data-newer]")).to_be_in_viewport()
    expect(page.locator("[data-newer]")).to_contain_text("Not saved: this list was changed")
    expect(page.get_by_label("Title", exact=True)).to_have_value("Mine")
    assert titles(page) == ["Newer"]


# the "lost update" of two who write in parallel: what is not made from the present state is refused (RFC 9110, 13.1.1)
def test_a_list_changed_in_another_window_is_not_saved_over_even_after_a_reload(two):
    _, mine = two
    is_refused(mine)
    mine.reload()
    mine.locator("[data-own-edit][data-ready]").wait_for()
    is_refused(mine)
    assert flaws(mine) == ([], 0)
    mine.get_by_role("button", name="Discard mine").click()
    expect(mine.get_by_label("Title", exact=True)).to_have_value("Newer")
    expect(mine.locator("[data-newer]")).to_be_hidden()
    retitle(mine, "Newest")
    save(mine)
    assert titles(mine) == ["Newest"]


def test_what_was_refused_can_be_saved_as_a_list_of_its_own(two):
    _, mine = two
    mine.reload()
    mine.locator("[data-own-edit][data-ready]").wait_for()
    expect(mine.locator("[data-newer]")).to_be_visible()
    mine.get_by_role("button", name="Save mine as a separate list").click()
    mine.wait_for_url("**/own/#id=*")
    mine.locator("[data-own-list][data-ready]").wait_for()
    assert titles(mine) == ["Mine", "Newer"]


def test_changes_to_a_list_that_was_deleted_meanwhile_are_saved_as_a_new_one(two, served):
    newer, mine = two
    newer.get_by_role("link", name="Change this list").click()
    newer.locator("[data-own-edit][data-ready]").wait_for()
    newer.get_by_role("button", name="Discard mine").click()
    expect(newer.get_by_label("Title", exact=True)).to_have_value("Newer")
    newer.get_by_role("button", name="Delete this list").click()
    newer.wait_for_url("**/checklists/#deleted=*")
    retitle(mine, "Mine again")
    mine.reload()
    mine.locator("[data-own-edit][data-ready]").wait_for()
    expect(mine.get_by_text("What you save here is a new one.")).to_be_visible()
    save(mine)
    assert titles(mine) == ["Mine again"]


# sheets on a wall are told apart by the day and the version, and an old one is taken down: common practice, no source
